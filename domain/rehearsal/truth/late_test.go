package truth

import (
	"testing"

	"github.com/stretchr/testify/require"
)

// Before anything has happened nobody is late; when all has happened the farm
// is as late as its harvest.
func TestLateRunsFromNothingToTheHarvest(t *testing.T) {
	for i := range 100 {
		f := land(Fair).Farm(i)
		c := f.Run(f.Inject(Kinds(), 540))
		m := f.Plan.TrueMedians(Fair)
		require.Zero(t, c.Late(-1, m))
		planned := int(c.project(-1, m))
		require.InDelta(t, c.Harvest()-planned, c.Late(c.Harvest(), m), 1)
	}
}

func TestLateSeesADelayAsItGrows(t *testing.T) {
	f := farmOf(t, land(Fair), "snail", "grow-out")
	m := f.Plan.TrueMedians(Fair)
	planted := f.Plan.At(Planted)
	c := f.Run([]Fault{{Kind: LatePlanting, Days: 40, Factor: 1}})
	was := -1000
	for day := c.begun[planted]; day <= c.Done[planted]; day++ {
		late := c.Late(day, m)
		require.GreaterOrEqual(t, late, was)
		was = late
	}
	require.GreaterOrEqual(t, was, 25)
}

// Slow plants are late in proportion to what they have grown: half-way
// through a growth that takes twice as long, half of the delay has happened.
func TestLateSeesSlowPlants(t *testing.T) {
	f := farmOf(t, land(Fair), "snail", "grow-out")
	f.days[f.Plan.At(CoverReady)] = 40
	c := f.Run([]Fault{{Kind: SlowCover, Factor: .5}})
	m := f.Plan.TrueMedians(Fair)
	from := c.begun[f.Plan.At(CoverReady)]
	before, half := c.project(from, m), c.project(from+40, m)
	require.InDelta(t, 20, half-before, 4)
}
