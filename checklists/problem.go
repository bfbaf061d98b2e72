package checklists

import "fmt"

// Problem is one thing wrong with a pack: where, and why.
type Problem struct {
	File   string `json:"file"`
	Line   int    `json:"line"`
	Column int    `json:"column"`
	Reason string `json:"reason"`
}

// String is file:line:column: reason.
func (p Problem) String() string {
	return fmt.Sprintf("%s:%d:%d: %s", p.File, p.Line, p.Column, p.Reason)
}
