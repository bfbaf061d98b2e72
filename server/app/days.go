package app

import (
	"context"
	"time"

	"tendfold/domain"
	"tendfold/domain/calendar"
	"tendfold/domain/farm"
)

// dayStore is what Days needs of the database.
type dayStore interface {
	Firm(ctx context.Context) (farm.Firm, error)
}

// Days say which civil day it is for a list: lists cross branches, and
// branches may lie in several time zones.
type Days struct {
	Core
	store dayStore
	plans *Plans
}

// NewDays wires the use case.
func NewDays(core Core, store dayStore, plans *Plans) *Days {
	return &Days{Core: core, store: store, plans: plans}
}

// Today is the day in the branch that a list is about, else in the branch for
// which the actor works, else where the firm is.
func (d *Days) Today(ctx context.Context, who Actor, branchID string) (calendar.Date, error) {
	if branchID == "" {
		if sc := who.Scope(); !sc.All && len(sc.Branches) > 0 {
			branchID = sc.Branches[0]
		}
	}
	if branchID != "" {
		on, err := d.plans.Today(ctx, branchID, d.Now())
		if domain.KindOf(err) != domain.KindNotFound {
			return on, err
		}
	}
	firm, err := d.store.Firm(ctx)
	if err != nil {
		return 0, err
	}
	zone, err := time.LoadLocation(firm.Zone)
	if err != nil {
		zone = time.UTC // what the firm starts from
	}
	return calendar.FromTime(d.Now().In(zone)), nil
}
