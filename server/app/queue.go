package app

import "context"

// Queue puts work behind the transaction of ctx: it is done once that has
// committed, and only then.
type Queue interface {
	// SweepFarm counts a change of the farm and queues its sweep. A use case
	// that changes anything the rules read calls it first, before it touches
	// what hangs on the farm: so all writers take the farm's row first.
	SweepFarm(ctx context.Context, farmID string) error
	// SweepAll queues a sweep of all farms.
	SweepAll(ctx context.Context) error
}
