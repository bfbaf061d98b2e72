package signin

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"time"

	"tendfold/domain"
)

// Tries counts the wrong tries at one thing from one side. It is kept in the
// database, so that neither a crash nor another server forgets it.
type Tries struct {
	Scope     string
	Failures  int
	NotBefore time.Time // no further try before
	SeenAt    time.Time
}

// limit is how wrong tries slow the next one: the first free ones cost
// nothing, then each waits twice as long as the one before, from one second
// to most; at ceiling the door is closed (0: never). A count that nobody
// added to for as long as forget begins anew (0: only a success does that).
type limit struct {
	free    int
	most    time.Duration
	ceiling int
	forget  time.Duration
}

// The limits. ASVS 5.0.0 6.1.1 wants them written down: docs/decisions/007.
// NIST SP 800-63B-4 3.2.2 allows 100 failures in a row on one account.
var (
	// One name, from everywhere but the browsers known to be its owner's.
	atAccount = limit{free: 20, most: time.Minute, ceiling: 100}
	// One name from one network.
	atDoor = limit{free: 4, most: 15 * time.Minute, forget: 24 * time.Hour}
	// All names from one network.
	atNetwork = limit{free: 30, most: time.Minute, forget: time.Hour}
	// One person in a browser that they have used before.
	atBrowser = limit{free: 4, most: 15 * time.Minute, forget: 24 * time.Hour}
	// The password asked again within a session.
	atConfirm = limit{free: 4, most: 15 * time.Minute, ceiling: 20}
	// Spoken codes from one network.
	atCode = limit{free: 4, most: 10 * time.Minute, forget: time.Hour}
)

// browserTries is how many wrong tries a known browser has before it is
// treated as any other.
const browserTries = 10

// wait is how long until the next try, and whether there will be none.
func (l limit) wait(t Tries, now time.Time) (wait time.Duration, closed bool) {
	if l.ceiling > 0 && t.Failures >= l.ceiling {
		return 0, true
	}
	return max(0, t.NotBefore.Sub(now)), false
}

// fresh is t, or a new count when the old one is forgotten.
func (l limit) fresh(t Tries, now time.Time) Tries {
	if l.forget > 0 && now.Sub(t.SeenAt) >= l.forget {
		return Tries{Scope: t.Scope, SeenAt: now}
	}
	return t
}

// failed is t with one more wrong try.
func (l limit) failed(t Tries, now time.Time) Tries {
	t.Failures++
	t.SeenAt = now
	if over := t.Failures - l.free; over > 0 {
		pause := l.most
		if over < 16 { // 2^15 s is beyond every Most
			pause = min(l.most, time.Second<<(over-1))
		}
		t.NotBefore = now.Add(pause)
	}
	return t
}

// door is one count that a try goes by. A shared one counts the tries of
// many people, so a success takes back one try and not all.
type door struct {
	scope  string
	limit  limit
	shared bool
}

// charge counts the try as a wrong one before it is looked at, so that a
// thousand at once are a thousand; forgive takes it back. It refuses when a
// door says wait.
func (s *Service) charge(ctx context.Context, now time.Time, doors ...door) error {
	return s.store.InTx(ctx, func(ctx context.Context) error {
		counts := make([]Tries, len(doors))
		var longest time.Duration
		for i, d := range inOrder(doors) {
			t, err := s.store.LockTries(ctx, d.scope, now)
			if err != nil {
				return err
			}
			t = d.limit.fresh(t, now)
			wait, closed := d.limit.wait(t, now)
			if closed {
				return doorClosed()
			}
			longest = max(longest, wait)
			counts[i] = d.limit.failed(t, now)
		}
		if longest > 0 {
			return tooSoon(longest)
		}
		for _, t := range counts {
			if err := s.store.PutTries(ctx, t); err != nil {
				return err
			}
		}
		return nil
	})
}

// inOrder sorts the doors, so that two tries that share some cannot wait for
// each other.
func inOrder(doors []door) []door {
	return slices.SortedFunc(slices.Values(doors), func(a, b door) int { return strings.Compare(a.scope, b.scope) })
}

// forgive forgets the wrong tries after one that proved right; at a shared
// door it takes back that one only. It runs in the caller's transaction.
func (s *Service) forgive(ctx context.Context, now time.Time, doors ...door) error {
	for _, d := range inOrder(doors) {
		var err error
		if d.shared {
			err = s.takeBack(ctx, now, d)
		} else {
			err = s.store.DropTries(ctx, d.scope)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// takeBack takes one try back, and the wait that it brought.
func (s *Service) takeBack(ctx context.Context, now time.Time, d door) error {
	t, err := s.store.LockTries(ctx, d.scope, now)
	if err != nil {
		return err
	}
	t.Failures = max(0, t.Failures-1)
	if t.Failures <= d.limit.free {
		t.NotBefore = time.Time{}
	}
	return s.store.PutTries(ctx, t)
}

// WaitCode is the code of the field that carries the seconds to wait, which
// the API repeats in Retry-After.
const WaitCode = "wait-seconds"

func tooSoon(wait time.Duration) error {
	seconds := int((wait + time.Second - 1) / time.Second)
	return &domain.Error{
		Kind: domain.KindTooMany, Code: "too-many-tries",
		Text:   fmt.Sprintf("Too many wrong tries. Wait %d seconds, then try again.", seconds),
		Fields: []domain.Field{{Code: WaitCode, Text: fmt.Sprint(seconds)}},
	}
}

func doorClosed() error {
	return &domain.Error{
		Kind: domain.KindTooMany, Code: "sign-in-closed",
		Text: "Too many wrong tries from devices that are new to us, so no new device may try now. Sign in on one that you have used before, or ask your administrator for a link.",
	}
}
