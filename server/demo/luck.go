package demo

import (
	"fmt"
	"hash/fnv"
	"math/rand/v2"

	"github.com/google/uuid"
)

// luck is the demo's chance: every use names itself, so that one more draw
// here shifts nothing there.
type luck struct{ seed uint64 }

func newLuck(seed uint64) luck { return luck{seed} }

// of is a generator for one use.
func (l luck) of(format string, args ...any) *rand.Rand {
	h := fnv.New64a()
	_, _ = fmt.Fprintf(h, format, args...)
	return rand.New(rand.NewPCG(l.seed, h.Sum64())) // invented data, not a secret
}

// id is an id for a thing of the demo, the same in every demo of a seed.
func (l luck) id(format string, args ...any) string {
	r := l.of(format, args...)
	var b [16]byte
	for i := range b {
		b[i] = byte(r.UintN(256))
	}
	b[6], b[8] = b[6]&0x0f|0x80, b[8]&0x3f|0x80 // a UUID of version 8: made by us
	return uuid.UUID(b).String()
}

// pick is one of the values.
func pick[T any](r *rand.Rand, values []T) T { return values[r.IntN(len(values))] }
