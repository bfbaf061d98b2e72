package keys

import (
	"sync"
	"time"
)

// seenMost bounds the access tokens that are remembered: more than a firm has
// in use within their ten minutes.
const seenMost = 10_000

// seenAccess is what a token says that was checked once, and when it is good.
type seenAccess struct {
	Access
	from, until time.Time
}

// seen remembers tokens whose signature was checked, letter by letter: the
// signature of the same text is as good the second time, and checking it is a
// third of what letting a request in costs. Whether its session still lives is
// not remembered; that is read with each request.
type seen struct {
	mu    sync.RWMutex
	known map[string]seenAccess
}

func (s *seen) good(token string, now time.Time) (Access, bool) {
	s.mu.RLock()
	a, ok := s.known[token]
	s.mu.RUnlock()
	return a.Access, ok && !now.Before(a.from) && now.Before(a.until)
}

// add remembers a token; when there are too many, all are forgotten, which
// costs each of them one check.
func (s *seen) add(token string, a seenAccess) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.known) >= seenMost || s.known == nil {
		s.known = map[string]seenAccess{}
	}
	s.known[token] = a
}
