package keys

import (
	"crypto/rand"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/stretchr/testify/require"
)

func TestParseSecrets(t *testing.T) {
	one, two := secretOf(0xfb), secretOf(2)
	url := strings.NewReplacer("+", "-", "/", "_").Replace(strings.TrimRight(one.Text(), "="))
	for name, text := range map[string]string{
		"commas":     one.Text() + "," + two.Text(),
		"lines":      "# first signs\n" + one.Text() + "\r\n\n" + two.Text() + " # old\n",
		"url base64": url + " " + two.Text(),
	} {
		t.Run(name, func(t *testing.T) {
			got, err := ParseSecrets(text)
			require.NoError(t, err)
			require.Equal(t, []Secret{one, two}, got)
		})
	}
}

func TestParseSecretsSaysWhatToDoAndNotWhatItRead(t *testing.T) {
	for _, text := range []string{"", "  \n", "# nothing", "c2hvcnQ=", "not base64 !!", secretOf(1).Text() + "x"} {
		_, err := ParseSecrets(text)
		require.ErrorContains(t, err, "make secrets", text)
		if w := strings.Fields(text); len(w) > 0 && len(w[0]) > 3 {
			require.NotContains(t, err.Error(), w[0])
		}
	}
}

func TestSecretDoesNotPrint(t *testing.T) {
	s := secretOf(7)
	for _, form := range []string{"%v", "%s", "%#v", "%+v"} {
		require.Equal(t, "signing key "+kid(s), fmt.Sprintf(form, s))
	}
}

func TestLoadFolderMakesOnePrivateFile(t *testing.T) {
	dir := t.TempDir()
	first, err := LoadFolder(dir, rand.Reader)
	require.NoError(t, err)
	again, err := LoadFolder(dir, rand.Reader)
	require.NoError(t, err)
	require.Equal(t, first, again)
	info, err := os.Stat(filepath.Join(dir, fileName))
	require.NoError(t, err)
	require.Equal(t, os.FileMode(0o600), info.Mode().Perm())
	left, err := os.ReadDir(dir)
	require.NoError(t, err)
	require.Len(t, left, 1)
}

func TestProcessesThatStartTogetherShareOneSecret(t *testing.T) {
	dir := t.TempDir()
	got := make([][]Secret, 16)
	errs := make([]error, len(got))
	var all sync.WaitGroup
	for i := range got {
		all.Go(func() { got[i], errs[i] = LoadFolder(dir, rand.Reader) })
	}
	all.Wait()
	for i := range got {
		require.NoError(t, errs[i])
		require.Equal(t, got[0], got[i])
	}
}

func TestLoadFolderRefuses(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, fileName)
	require.NoError(t, os.WriteFile(path, []byte(secretOf(1).Text()), 0o644))
	_, err := LoadFolder(dir, rand.Reader)
	require.ErrorContains(t, err, "chmod 600")

	require.NoError(t, os.WriteFile(path, nil, 0o600))
	require.NoError(t, os.Chmod(path, 0o600))
	_, err = LoadFolder(dir, rand.Reader)
	require.ErrorContains(t, err, fileName)

	_, err = LoadFolder(filepath.Join(dir, "missing"), rand.Reader)
	require.Error(t, err)
}

func FuzzParseSecrets(f *testing.F) {
	for _, s := range []string{"", secretOf(1).Text(), "a,b", "#", strings.Repeat("A", 43)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		got, err := ParseSecrets(text)
		require.Equal(t, err != nil, len(got) == 0)
	})
}
