package keys

import (
	"bytes"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

var noon = time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC)

// secretOf is a fixed secret: 32 times the same byte.
func secretOf(b byte) Secret { return Secret(bytes.Repeat([]byte{b}, secretSize)) }

func ring(t testing.TB, of ...byte) *Ring {
	t.Helper()
	var secrets []Secret
	for _, b := range of {
		secrets = append(secrets, secretOf(b))
	}
	r, err := NewRing(secrets...)
	require.NoError(t, err)
	return r
}

func TestRotationKeepsWhatOldKeysMade(t *testing.T) {
	old, rotated, gone := ring(t, 1), ring(t, 2, 1), ring(t, 2)
	token, err := old.MintAccess(Access{PersonID: "p", SessionID: "s"}, noon)
	require.NoError(t, err)
	refresh := old.MintRefresh(Refresh{SessionID: "s", Generation: 3})
	nonce := old.MintNonce("r", noon)
	mark := old.MintBrowser(Browser{ID: "b", PersonID: "p", At: noon})
	field := old.SealField("p", "secret")
	stamped := old.Stamp("code", "ACDE")

	opens := func(r *Ring) []bool {
		_, access := r.ReadAccess(token, noon)
		_, ref := r.ReadRefresh(refresh)
		_, non := r.ReadNonce(nonce)
		_, bro := r.ReadBrowser(mark)
		_, fie := r.OpenField("p", field)
		return []bool{access == nil, ref == nil, non == nil, bro == nil, fie == nil, r.Stamped(stamped, "code", "ACDE")}
	}
	require.Equal(t, []bool{true, true, true, true, true, true}, opens(rotated))
	require.Equal(t, []bool{false, false, false, false, false, false}, opens(gone))
	require.Len(t, rotated.KIDs(), 2)
	require.NotEqual(t, old.KIDs()[0], rotated.KIDs()[0])
}

func TestMarksOfOneKindAreNotAnothers(t *testing.T) {
	r := ring(t, 1)
	refresh := r.MintRefresh(Refresh{SessionID: "s", Generation: 1})
	nonce := r.MintNonce("s", time.Unix(1, 0))
	_, err := r.ReadNonce(refresh)
	require.Error(t, err)
	_, err = r.ReadRefresh(nonce)
	require.Error(t, err)
	_, err = r.ReadAccess(refresh, noon)
	require.Error(t, err)
}

func TestMarksSayWhatWasMinted(t *testing.T) {
	r := ring(t, 1)
	f, err := r.ReadRefresh(r.MintRefresh(Refresh{SessionID: "0198-a", Generation: 41}))
	require.NoError(t, err)
	require.Equal(t, Refresh{SessionID: "0198-a", Generation: 41}, f)
	until, err := r.ReadNonce(r.MintNonce("x", noon))
	require.NoError(t, err)
	require.Equal(t, noon, until)
	b, err := r.ReadBrowser(r.MintBrowser(Browser{ID: "b", PersonID: "p", At: noon}))
	require.NoError(t, err)
	require.Equal(t, Browser{ID: "b", PersonID: "p", At: noon}, b)
}

// The token of a generation is the same each time, and tells nothing of the next.
func TestRefreshTokensRepeat(t *testing.T) {
	r := ring(t, 1)
	one := r.MintRefresh(Refresh{SessionID: "s", Generation: 1})
	require.Equal(t, one, r.MintRefresh(Refresh{SessionID: "s", Generation: 1}))
	require.NotEqual(t, one, r.MintRefresh(Refresh{SessionID: "s", Generation: 2}))
	require.NotEqual(t, one, r.MintRefresh(Refresh{SessionID: "t", Generation: 1}))
}

func TestEveryChangedBitOfAMarkIsRefused(t *testing.T) {
	r := ring(t, 1)
	mark := r.MintRefresh(Refresh{SessionID: "s", Generation: 1})
	for i := range len(mark) * 8 {
		changed := []byte(mark)
		changed[i/8] ^= 1 << (i % 8)
		_, err := r.ReadRefresh(string(changed))
		require.Error(t, err, "bit %d", i)
	}
}

func TestFieldOpensForItsOwnerOnly(t *testing.T) {
	r := ring(t, 1)
	sealed := r.SealField("ana", "JBSWY3DPEHPK3PXP")
	require.NotContains(t, sealed, "JBSWY")
	require.NotEqual(t, sealed, r.SealField("ana", "JBSWY3DPEHPK3PXP"))
	plain, err := r.OpenField("ana", sealed)
	require.NoError(t, err)
	require.Equal(t, "JBSWY3DPEHPK3PXP", plain)
	for _, bad := range []string{"", ".", "x.y", sealed + "A", sealed[:len(sealed)-4]} {
		_, err = r.OpenField("ana", bad)
		require.Error(t, err, bad)
	}
	_, err = r.OpenField("ben", sealed)
	require.Error(t, err)
}

func TestStampKeepsPurposesApart(t *testing.T) {
	r := ring(t, 1)
	require.True(t, r.Stamped(r.Stamp("code", "x"), "code", "x"))
	require.False(t, r.Stamped(r.Stamp("code", "x"), "login", "x"))
	require.False(t, r.Stamped(r.Stamp("code", "x"), "code", "y"))
	require.False(t, r.Stamped("", "code", "x"))
}

func FuzzMarks(f *testing.F) {
	r := ring(f, 1)
	f.Add(r.MintRefresh(Refresh{SessionID: "s", Generation: 1}))
	f.Add(r.MintNonce("n", noon))
	f.Add(r.MintBrowser(Browser{ID: "b", PersonID: "p", At: noon}))
	for _, s := range []string{"", ".", "....", "a.b.c.d", "\x00.\x00.\x00.\x00"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, mark string) {
		if f, err := r.ReadRefresh(mark); err == nil {
			require.Equal(t, mark, r.MintRefresh(f))
		}
		if b, err := r.ReadBrowser(mark); err == nil {
			require.Equal(t, mark, r.MintBrowser(b))
		}
		_, _ = r.ReadNonce(mark)
		_, _ = r.OpenField("p", mark)
	})
}
