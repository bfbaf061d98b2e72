package sweep

import "tendfold/domain/ticket"

// RuleFigures are the figures of one rule, from the pack of the enterprise.
// Grace and recovery are civil days from the day on which the condition
// became true or false in the facts known each day.
type RuleFigures struct {
	// Enter and Leave are the limits at which a finding begins and ends, in
	// the measure of the rule: days late, a probability. Between them a
	// finding stays as it was, so that nothing flaps.
	Enter float64
	Leave float64
	// Days is the rule's own span in days where it has one: how late is late
	// (cover-short 7), how much worse is worse (harvest-slip 7, growth-short
	// 14), how near an end is near (snag-due), the float over a window
	// (milestone-behind 5).
	Days float64
	// Pace is the chance at which growth-short holds that the animals have
	// fallen behind their own pace; left below half of it. 0 = not asked.
	Pace float64
	// Grace is how many days the condition must have held before a ticket
	// opens; GraceLiving takes its place at milestones of kind living.
	Grace       int
	GraceLiving int
	// Recovery is how many days the condition must have been gone before an
	// open ticket is settled.
	Recovery int
	// Rest is how many days a ticket stays quiet that a person settled while
	// the condition held.
	Rest int
	// Impact and TimeToLoss give the urgency by the table of the ticket room.
	Impact     ticket.Impact
	TimeToLoss ticket.TimeToLoss
	// Mutes names the rules whose findings stay silent on the same farm while
	// this one holds; a rule that names itself mutes its own findings on
	// later milestones.
	Mutes []string
}
