package register

import (
	"math"
	"slices"
	"testing"

	"tendfold/domain/farm"

	"github.com/stretchr/testify/require"
	"pgregory.net/rapid"
)

func at(lat, lng float64) farm.Position { return farm.Position{Lat: lat, Lng: lng, Known: true} }

// Published haversine distances, reference/worked-examples.md section 7:
// Nashville to Los Angeles by the formula's usual example, Lyon to Paris.
func TestKilometres(t *testing.T) {
	require.InDelta(t, 2886.448430, kilometres(at(36.12, -86.67), at(33.94, -118.40)), 1e-5)
	require.InDelta(t, 392.2172595594, kilometres(at(45.7597, 4.8422), at(48.8567, 2.3508)), 1e-9)
	require.Zero(t, kilometres(at(4.05, 9.77), at(4.05, 9.77)))
	require.InDelta(t, math.Pi*earthKM, kilometres(at(90, 0), at(-90, 0)), 1e-6)
}

// Two places within a kilometre lie in the same or in touching cubes,
// wherever they are.
func TestCubesMissNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		lat := rapid.Float64Range(-90, 90).Draw(t, "latitude")
		lng := rapid.Float64Range(-180, 180).Draw(t, "longitude")
		north := rapid.Float64Range(-0.009, 0.009).Draw(t, "north")
		east := rapid.Float64Range(-0.009, 0.009).Draw(t, "east") / max(math.Cos(lat*math.Pi/180), 1e-3)
		a, b := at(lat, lng), at(min(max(lat+north, -90), 90), math.Remainder(lng+east, 360))
		if kilometres(a, b) <= oneKM {
			require.Contains(t, slices.Collect(cubeOf(a).around), cubeOf(b))
		}
	})
}
