//go:build unix

package storetest

import (
	"fmt"
	"os"
	"os/exec"
	"os/user"
	"strconv"
	"syscall"
)

// account is the user that the server runs as; nil when it is ourselves.
type account struct{ as *syscall.Credential }

// serverUser gives dir to a user who is not root, because PostgreSQL refuses
// to run as root.
func serverUser(dir string) (account, error) {
	if os.Getuid() != 0 {
		return account{}, nil
	}
	for _, name := range []string{"postgres", "nobody"} {
		u, err := user.Lookup(name)
		if err != nil {
			continue
		}
		uid, err1 := strconv.ParseUint(u.Uid, 10, 32)
		gid, err2 := strconv.ParseUint(u.Gid, 10, 32)
		if err1 != nil || err2 != nil {
			continue
		}
		return account{&syscall.Credential{Uid: uint32(uid), Gid: uint32(gid)}}, os.Chown(dir, int(uid), int(gid))
	}
	return account{}, fmt.Errorf("PostgreSQL does not run as root, and there is neither a user postgres nor nobody")
}

// apply makes the command run as the account, in a process group of its own.
func (a account) apply(cmd *exec.Cmd) {
	cmd.SysProcAttr = &syscall.SysProcAttr{Credential: a.as, Setpgid: true}
}
