package signin

import (
	"context"
	"crypto/rand"
	"sync"

	"tendfold/domain"

	"github.com/alexedwards/argon2id"
)

// Cost is what one hash takes.
type Cost = argon2id.Params

// HashCost is what new passwords are hashed with: argon2id, 46 MiB, 2 passes,
// 1 lane. That is twice the work of either floor of the OWASP Password Storage
// Cheat Sheet (46 MiB and 1 pass, or 19 MiB and 2), and a small server with
// two at once needs 92 MiB for it. A hash carries its own cost, and is made
// again at sign-in when this has changed.
var HashCost = Cost{Memory: 46 << 10, Iterations: 2, Parallelism: 1, SaltLength: 16, KeyLength: 32}

// LeastCost is the floor of 19 MiB, for demo data and tests, which hash a lot.
var LeastCost = Cost{Memory: 19 << 10, Iterations: 2, Parallelism: 1, SaltLength: 16, KeyLength: 32}

// Hasher hashes and checks passwords, a few at a time: each takes cost.Memory,
// so that a crowd at the door waits instead of filling the memory.
type Hasher struct {
	cost  Cost
	at    chan struct{} // holds one token for each hash under way
	queue chan struct{} // and one for each that waits or works
	dummy func() string
}

// NewHasher makes a Hasher that works on at most atOnce passwords at a time
// and lets sixty-four times as many wait.
func NewHasher(cost Cost, atOnce int) *Hasher {
	h := &Hasher{cost: cost, at: make(chan struct{}, atOnce), queue: make(chan struct{}, 64*atOnce)}
	h.dummy = sync.OnceValue(func() string {
		hash, err := argon2id.CreateHash(rand.Text(), &h.cost)
		if err != nil {
			panic(err) // only when the system has no randomness
		}
		return hash
	})
	return h
}

// Make hashes a password with today's cost.
func (h *Hasher) Make(ctx context.Context, password string) (hash string, err error) {
	err = h.alone(ctx, func() error {
		hash, err = argon2id.CreateHash(password, &h.cost)
		return err
	})
	return hash, err
}

// Check says whether the password is the hash's, and whether the hash should
// be made again with today's cost. An empty hash stands for an account that
// is not there: the work is the same and the answer is no.
func (h *Hasher) Check(ctx context.Context, password, hash string) (ok, upgrade bool, err error) {
	err = h.alone(ctx, func() error {
		against := hash
		if against == "" {
			against = h.dummy()
		}
		match, cost, err := argon2id.CheckHash(password, against)
		if err != nil {
			return err
		}
		ok = match && hash != ""
		upgrade = ok && *cost != h.cost
		return nil
	})
	return ok, upgrade, err
}

func (h *Hasher) alone(ctx context.Context, work func() error) error {
	select {
	case h.queue <- struct{}{}:
		defer func() { <-h.queue }()
	default:
		return crowded()
	}
	select {
	case h.at <- struct{}{}:
		defer func() { <-h.at }()
		return work()
	case <-ctx.Done():
		return crowded()
	}
}

func crowded() error {
	return &domain.Error{Kind: domain.KindBusy, Code: "sign-in-busy", Text: "Many people are signing in just now. Wait a few seconds, then try again."}
}
