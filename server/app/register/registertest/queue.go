package registertest

import "context"

// Queue is a queue that counts what is put into it.
type Queue struct{ All int }

// SweepFarm is not asked for by an import.
func (q *Queue) SweepFarm(context.Context, string) error { panic("an import sweeps all farms at once") }

// SweepAll counts.
func (q *Queue) SweepAll(context.Context) error { q.All++; return nil }
