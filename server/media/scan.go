package media

import (
	"context"
	"errors"
	"fmt"
	"os/exec"
	"time"

	"tendfold/domain"
)

// scanTime is how long a scanner may take for one file.
const scanTime = time.Minute

// scanFound is the exit code by which scanners say that a file is bad; 0 says
// that it is good, anything else that they could not tell (common practice of
// command-line scanners).
const scanFound = 1

// scanned asks the scanner, where one is set. A scanner that fails keeps
// nothing out and lets nothing in: the phone sends again later.
func (k *Keeper) scanned(ctx context.Context, path string) error {
	if len(k.scan) == 0 {
		return nil
	}
	ctx, cancel := context.WithTimeout(ctx, scanTime)
	defer cancel()
	args := append(append([]string{}, k.scan[1:]...), path)
	err := exec.CommandContext(ctx, k.scan[0], args...).Run() // the operator names the command
	if err == nil {
		return nil
	}
	if exit, ok := errors.AsType[*exec.ExitError](err); ok && exit.ExitCode() == scanFound {
		return refusal("media-scanned", "The scanner of this house does not let this file in.")
	}
	return &domain.Error{
		Kind: domain.KindBusy, Code: "media-scanner", Text: "The scanner of files does not answer. Try again later.",
		Err: fmt.Errorf("scanner %s: %w", k.scan[0], err),
	}
}
