package api

import (
	"sync"
	"time"
)

// throttle bounds how often one network may ask what costs work or can be
// guessed at: a bucket of so many requests, refilled at a steady rate. It
// lives in memory, because it only smooths; wrong tries are counted in the
// database.
type throttle struct {
	burst float64
	rate  float64 // a second
	most  int     // networks that are remembered

	mu   sync.Mutex
	seen map[string]bucket
}

type bucket struct {
	left float64
	at   time.Time
}

// The office behind one address and a village behind one mast stay well below.
const (
	doorBurst    = 60
	doorRate     = 2
	doorNetworks = 10_000
)

func newThrottle() *throttle {
	return &throttle{burst: doorBurst, rate: doorRate, most: doorNetworks, seen: map[string]bucket{}}
}

// take says whether the network may ask now.
func (t *throttle) take(network string, now time.Time) bool {
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.seen) >= t.most {
		t.forget(now)
	}
	b, ok := t.seen[network]
	if !ok {
		b = bucket{left: t.burst, at: now}
	}
	b = t.filled(b, now)
	if b.left < 1 {
		t.seen[network] = b
		return false
	}
	b.left--
	t.seen[network] = b
	return true
}

func (t *throttle) filled(b bucket, now time.Time) bucket {
	if d := now.Sub(b.at); d > 0 {
		b.left, b.at = min(t.burst, b.left+t.rate*d.Seconds()), now
	}
	return b
}

// forget drops the networks whose bucket is full again; if a flood of others
// leaves no room, all of them, so that memory is bounded whatever comes.
func (t *throttle) forget(now time.Time) {
	for network, b := range t.seen {
		if t.filled(b, now).left >= t.burst {
			delete(t.seen, network)
		}
	}
	if len(t.seen) >= t.most {
		clear(t.seen)
	}
}
