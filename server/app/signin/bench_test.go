package signin_test

import (
	"testing"

	"tendfold/server/store/storetest"

	"github.com/stretchr/testify/require"
)

// BenchmarkAuthenticate is what every request pays for revocation at once.
func BenchmarkAuthenticate(b *testing.B) {
	w := newWorld(b, storetest.Open(b, storetest.Folder(b)), secretOf(1))
	in := w.signIn(w.advisor("ana"))
	for b.Loop() {
		_, err := w.s.Authenticate(ctx, in.Access)
		require.NoError(b, err)
	}
}
