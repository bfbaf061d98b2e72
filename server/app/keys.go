package app

import (
	"context"
	"time"
)

// keyStore keeps the answers of creates by their keys.
type keyStore interface {
	Store
	BeginKey(ctx context.Context, personID, key, request string, at time.Time) (answer Answer, done bool, err error)
	FinishKey(ctx context.Context, personID, key string, a Answer) error
	PurgeKeys(ctx context.Context, before time.Time) (int, error)
}

// Keys makes a create that is sent twice happen once.
type Keys struct {
	Core
	store keyStore
}

// NewKeys wires the use case.
func NewKeys(core Core, store keyStore) *Keys { return &Keys{Core: core, store: store} }

// keyLife is longer than a phone may be without signal.
const keyLife = 120 * 24 * time.Hour

// Once does the work of a create in one transaction with its key, and keeps
// the answer. The same key again gives the kept answer without doing
// anything; with another request it is refused.
func (k *Keys) Once(ctx context.Context, who Actor, key, request string, do func(ctx context.Context) ([]byte, error)) (body []byte, err error) {
	err = k.store.InTx(ctx, func(ctx context.Context) error {
		old, done, err := k.store.BeginKey(ctx, who.PersonID, key, request, k.Now())
		if err != nil {
			return err
		}
		if done {
			body = []byte(old.Body)
			return nil
		}
		if body, err = do(ctx); err != nil {
			return err
		}
		return k.store.FinishKey(ctx, who.PersonID, key, Answer{Request: request, Status: 200, Body: string(body)})
	})
	return body, err
}

// Purge forgets keys that no phone can still send.
func (k *Keys) Purge(ctx context.Context) error {
	for {
		n, err := k.store.PurgeKeys(ctx, k.Now().Add(-keyLife))
		if err != nil || n == 0 {
			return err
		}
	}
}
