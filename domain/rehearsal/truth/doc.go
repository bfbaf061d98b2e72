// Package truth makes farms whose course is known: when each step really
// ended, how fast cover and animals really grew, what died, and which part of
// it reached the server, when, and how wrong.
//
// It is the yardstick of the rehearsal and so knows nothing of what it
// measures: it imports neither packs nor rules nor the programme, has its own
// steps, medians and families of curves, and its own errors. Where a figure
// has a source it stands beside it; the others are our guess of a farm's life
// and are marked "guess".
package truth
