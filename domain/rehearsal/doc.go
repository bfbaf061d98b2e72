// Package rehearsal proves the rules: it lets the real sweep run, day by day,
// over farms whose truth is known (package truth) and of which it sees only
// what reached the server, and scores the tickets that it opens against what
// really went wrong.
package rehearsal
