package media_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"image"
	"image/jpeg"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"tendfold/domain"
	"tendfold/server/media"

	"github.com/stretchr/testify/require"
)

var ctx = context.Background()

func photo(t *testing.T) ([]byte, media.Want) {
	t.Helper()
	var out bytes.Buffer
	require.NoError(t, jpeg.Encode(&out, image.NewGray(image.Rect(0, 0, 600, 400)), nil))
	return out.Bytes(), want(out.Bytes())
}

func want(b []byte) media.Want {
	sum := sha256.Sum256(b)
	return media.Want{Kind: media.Photo, Size: int64(len(b)), SHA256: hex.EncodeToString(sum[:])}
}

func open(t *testing.T, folder string, scanner ...string) *media.Keeper {
	t.Helper()
	k, err := media.Open(folder, scanner)
	require.NoError(t, err)
	return k
}

// told is the offset that an error tells.
func told(t *testing.T, err error) string {
	t.Helper()
	var e *domain.Error
	require.ErrorAs(t, err, &e)
	require.Equal(t, media.OffsetCode, e.Code)
	return e.Fields[0].Text
}

func TestAFileComesInPiecesAndOutlivesTheServer(t *testing.T) {
	folder := t.TempDir()
	raw, w := photo(t)
	k := open(t, folder)
	n, err := k.Append("a", 0, w.Size, raw[:100])
	require.NoError(t, err)
	require.EqualValues(t, 100, n)

	k = open(t, folder) // the server was killed and started again
	n, err = k.Received("a")
	require.NoError(t, err)
	require.EqualValues(t, 100, n)
	for _, wrong := range []int64{0, 99, 101, 5000} {
		_, err = k.Append("a", wrong, w.Size, raw[:100])
		require.Equal(t, "100", told(t, err), "sent again, or ahead")
	}
	_, err = k.Finish(ctx, "a", w)
	require.Equal(t, "100", told(t, err), "not whole yet")
	_, err = k.Append("a", 100, w.Size, append(raw[100:], 0))
	require.Equal(t, "media-size", domain.CodeOf(err), "more than was announced")
	_, err = k.Append("a", 100, w.Size, raw[100:])
	require.NoError(t, err)

	made, err := k.Finish(ctx, "a", w)
	require.NoError(t, err)
	again, err := k.Finish(ctx, "a", w)
	require.NoError(t, err)
	require.Equal(t, made, again, "a crash before the database knew")
	require.NoError(t, k.Forget("a"))
	require.NoError(t, k.Forget("a"))
	require.Equal(t, []int{600, 400}, []int{made.Width, made.Height})
	for _, blob := range []string{made.Blob, made.Thumb} {
		b, err := k.Read(blob)
		require.NoError(t, err)
		require.Equal(t, blob, want(b).SHA256, "filed under its own hash")
		require.True(t, bytes.HasPrefix(b, []byte("\xff\xd8\xff")))
	}
}

func TestAWrongByteStartsTheSendingAnew(t *testing.T) {
	k := open(t, t.TempDir())
	raw, w := photo(t)
	bad := bytes.Clone(raw)
	bad[len(bad)/2] ^= 1
	_, err := k.Append("a", 0, w.Size, bad)
	require.NoError(t, err)
	_, err = k.Finish(ctx, "a", w)
	require.Equal(t, "media-hash", domain.CodeOf(err))
	n, err := k.Received("a")
	require.NoError(t, err)
	require.Zero(t, n)
}

func TestNoNameLeadsOutOfTheFolder(t *testing.T) {
	k := open(t, t.TempDir())
	for _, id := range []string{"", "..", "../x", "a/b", "a.b", strings.Repeat("a", 65), "a\x00"} {
		_, err := k.Append(id, 0, 10, []byte("x"))
		require.Equal(t, "media-id", domain.CodeOf(err), id)
		require.Error(t, k.Forget(id))
	}
	for _, blob := range []string{"", "..", "../../etc/passwd", strings.Repeat("g", 64)} {
		_, err := k.Read(blob)
		require.Equal(t, domain.KindNotFound, domain.KindOf(err), blob)
	}
}

func TestAFileThatSomebodyChangedIsNotGivenOut(t *testing.T) {
	folder := t.TempDir()
	k := open(t, folder)
	raw, w := photo(t)
	_, err := k.Append("a", 0, w.Size, raw)
	require.NoError(t, err)
	made, err := k.Finish(ctx, "a", w)
	require.NoError(t, err)
	path := filepath.Join(folder, "kept", made.Blob[:2], made.Blob)
	require.NoError(t, os.WriteFile(path, []byte("<script>"), 0o600))
	_, err = k.Read(made.Blob)
	require.Equal(t, domain.KindNotFound, domain.KindOf(err))
	_, err = k.Finish(ctx, "a", w)
	require.NoError(t, err)
	_, err = k.Read(made.Blob)
	require.NoError(t, err, "filed anew")
}

func TestTheScannerDecides(t *testing.T) {
	raw, w := photo(t)
	for script, code := range map[string]string{"exit 0": "", "exit 1": "media-scanned", "exit 2": "media-scanner", "test -s \"$0\"": ""} {
		k := open(t, t.TempDir(), "sh", "-c", script)
		_, err := k.Append("a", 0, w.Size, raw)
		require.NoError(t, err)
		_, err = k.Finish(ctx, "a", w)
		require.Equal(t, code, domain.CodeOf(err), script)
	}
	k := open(t, t.TempDir(), "/no/such/scanner")
	_, err := k.Append("a", 0, w.Size, raw)
	require.NoError(t, err)
	_, err = k.Finish(ctx, "a", w)
	require.Equal(t, domain.KindBusy, domain.KindOf(err), "a scanner that is not there lets nothing in")
}

func TestTidyTakesWhatNeverBecameWhole(t *testing.T) {
	folder := t.TempDir()
	k := open(t, folder)
	raw, w := photo(t)
	for _, id := range []string{"old", "new", "whole"} {
		_, err := k.Append(id, 0, w.Size, raw)
		require.NoError(t, err)
	}
	made, err := k.Finish(ctx, "whole", w)
	require.NoError(t, err)
	draft := filepath.Join(folder, "kept", made.Blob[:2], "1.draft")
	require.NoError(t, os.WriteFile(draft, raw, 0o600))
	long := time.Now().Add(-100 * time.Hour)
	for _, path := range []string{filepath.Join(folder, "incoming", "old"), draft, filepath.Join(folder, "kept", made.Blob[:2], made.Blob)} {
		require.NoError(t, os.Chtimes(path, long, long))
	}
	require.NoError(t, k.Tidy(long.Add(time.Hour)))
	for id, there := range map[string]bool{"old": false, "new": true} {
		n, err := k.Received(id)
		require.NoError(t, err)
		require.Equal(t, there, n > 0, id)
	}
	require.NoFileExists(t, draft)
	_, err = k.Read(made.Blob)
	require.NoError(t, err)
}

func TestABackupBringsEverythingBackAndNothingElse(t *testing.T) {
	k := open(t, t.TempDir())
	raw, w := photo(t)
	_, err := k.Append("a", 0, w.Size, raw)
	require.NoError(t, err)
	made, err := k.Finish(ctx, "a", w)
	require.NoError(t, err)
	file := filepath.Join(t.TempDir(), "m.tar")
	n, err := k.Pack(file)
	require.NoError(t, err)
	require.Equal(t, 2, n)
	_, err = k.Pack(file)
	require.Error(t, err, "a file that is there is left alone")

	other := open(t, t.TempDir())
	n, err = other.Unpack(file)
	require.NoError(t, err)
	require.Equal(t, 2, n)
	for _, blob := range []string{made.Blob, made.Thumb} {
		before, err := k.Read(blob)
		require.NoError(t, err)
		after, err := other.Read(blob)
		require.NoError(t, err)
		require.Equal(t, before, after)
	}
	packed, err := os.ReadFile(file)
	require.NoError(t, err)
	packed[len(packed)/2] ^= 1
	require.NoError(t, os.WriteFile(file, packed, 0o600))
	_, err = open(t, t.TempDir()).Unpack(file)
	require.Equal(t, "backup-damaged", domain.CodeOf(err))
}
