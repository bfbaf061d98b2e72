package signin

import (
	"context"
	"encoding/hex"
	"runtime"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"tendfold/domain"

	"github.com/alexedwards/argon2id"
	"github.com/stretchr/testify/require"
	"golang.org/x/crypto/argon2"
)

// Test vectors of the argon2 reference implementation (phc-winner-argon2,
// src/test.c, Argon2id version 0x13, "password", "somesalt"). The vector in
// RFC 9106 section 5.3 uses a secret and associated data, which the library
// does not take; its own tests hold it to that one.
func TestArgon2idMatchesTheReference(t *testing.T) {
	for _, c := range []struct {
		passes, memory uint32
		lanes          uint8
		want           string
	}{
		{2, 1 << 16, 1, "09316115d5cf24ed5a15a31a3ba326e5cf32edc24702987c02b6566f61913cf7"},
		{2, 1 << 8, 1, "9dfeb910e80bad0311fee20f9c0e2b12c17987b4cac90c2ef54d5b3021c68bfe"},
		{2, 1 << 8, 2, "6d093c501fd5999645e0ea3bf620d7b8be7fd2db59c20d9fff9539da2bf57037"},
		{1, 1 << 16, 1, "f6a5adc1ba723dddef9b5ac1d464e180fcd9dffc9d1cbf76cca2fed795d9ca98"},
		{4, 1 << 16, 1, "9025d48e68ef7395cca9079da4c4ec3affb3c8911fe4f86d1a2520856f63172c"},
	} {
		got := argon2.IDKey([]byte("password"), []byte("somesalt"), c.passes, c.memory, c.lanes, 32)
		require.Equal(t, c.want, hex.EncodeToString(got))
	}
}

func TestCostsAreAtLeastTheFloor(t *testing.T) {
	for _, c := range []Cost{HashCost, LeastCost} {
		require.GreaterOrEqual(t, c.Memory, uint32(19<<10))
		require.GreaterOrEqual(t, c.Iterations, uint32(2))
		require.Equal(t, uint32(16), c.SaltLength) // RFC 9106 section 4
	}
}

func TestHasherChecksByteForByte(t *testing.T) {
	ctx := context.Background()
	h := NewHasher(LeastCost, 2)
	hash, err := h.Make(ctx, " Été ")
	require.NoError(t, err)
	for _, other := range []string{"Été", " été ", " Été", " E\u0301te\u0301 ", ""} {
		ok, _, err := h.Check(ctx, other, hash)
		require.NoError(t, err)
		require.False(t, ok, "%q", other)
	}
	ok, upgrade, err := h.Check(ctx, " Été ", hash)
	require.NoError(t, err)
	require.True(t, ok)
	require.False(t, upgrade)

	again, err := h.Make(ctx, " Été ")
	require.NoError(t, err)
	require.NotEqual(t, hash, again, "each hash has its own salt")
}

func TestHasherAsksForAnUpgrade(t *testing.T) {
	ctx := context.Background()
	weak := LeastCost
	weak.Iterations = 1
	hash, err := NewHasher(weak, 1).Make(ctx, "quiet river")
	require.NoError(t, err)
	ok, upgrade, err := NewHasher(LeastCost, 1).Check(ctx, "quiet river", hash)
	require.NoError(t, err)
	require.True(t, ok)
	require.True(t, upgrade)
	_, upgrade, err = NewHasher(LeastCost, 1).Check(ctx, "other river", hash)
	require.NoError(t, err)
	require.False(t, upgrade)
}

func TestNoAccountIsNoMatch(t *testing.T) {
	h := NewHasher(LeastCost, 1)
	ok, upgrade, err := h.Check(context.Background(), "quiet river", "")
	require.NoError(t, err)
	require.False(t, ok)
	require.False(t, upgrade)
	_, _, err = h.Check(context.Background(), "quiet river", "$argon2i$nonsense")
	require.Error(t, err)
}

// Fifty people at the door at once: never more than two hashes' memory.
func TestACrowdIsBoundedInMemory(t *testing.T) {
	h := NewHasher(LeastCost, 2)
	hash, err := h.Make(context.Background(), "quiet river")
	require.NoError(t, err)
	runtime.GC()
	var peak atomic.Uint64
	stop := make(chan struct{})
	var watch sync.WaitGroup
	watch.Go(func() {
		var m runtime.MemStats
		for {
			runtime.ReadMemStats(&m)
			peak.Store(max(peak.Load(), m.HeapInuse))
			select {
			case <-stop:
				return
			default:
				runtime.Gosched()
			}
		}
	})
	var all sync.WaitGroup
	var right atomic.Int32
	for range 50 {
		all.Go(func() {
			if ok, _, err := h.Check(context.Background(), "quiet river", hash); err == nil && ok {
				right.Add(1)
			}
		})
	}
	all.Wait()
	close(stop)
	watch.Wait()
	require.Equal(t, int32(50), right.Load())
	// Garbage of past hashes may stand until the next collection; without a
	// bound 50 hashes would hold 950 MiB.
	require.Less(t, peak.Load(), uint64(300<<20))
}

func TestATooLongQueueIsSentAway(t *testing.T) {
	h := NewHasher(LeastCost, 1)
	h.at <- struct{}{} // a hash that never ends
	for range cap(h.queue) {
		h.queue <- struct{}{}
	}
	_, err := h.Make(context.Background(), "quiet river")
	require.Equal(t, domain.KindBusy, domain.KindOf(err))

	<-h.queue
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	_, err = h.Make(ctx, "quiet river")
	require.Equal(t, domain.KindBusy, domain.KindOf(err))
	require.Len(t, h.queue, cap(h.queue)-1, "who gives up leaves the queue")
}

func FuzzStoredHash(f *testing.F) {
	h := NewHasher(LeastCost, 1)
	for _, s := range []string{"$argon2id$v=19$m=1,t=1,p=1$AAAA$AAAA", "$$$$$", strings.Repeat("$", 6)} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, hash string) {
		if cost, _, _, err := argon2id.DecodeHash(hash); err != nil || cost.Memory > 1<<10 || cost.Iterations > 4 || cost.Iterations == 0 || cost.Parallelism == 0 || cost.KeyLength == 0 {
			return // our own table; a cost of gigabytes is not what is tested
		}
		_, _, _ = h.Check(context.Background(), "x", hash)
	})
}

func BenchmarkHash(b *testing.B) {
	for name, cost := range map[string]Cost{"today": HashCost, "floor": LeastCost} {
		b.Run(name, func(b *testing.B) {
			h := NewHasher(cost, 1)
			for b.Loop() {
				_, err := h.Make(context.Background(), "quiet river")
				require.NoError(b, err)
			}
		})
	}
}
