package register

import (
	"math"

	"tendfold/domain/farm"
)

// earthKM is the mean radius of the earth, R1 of GRS80 (IUGG).
const earthKM = 6371.0088

// kilometres is the great-circle distance by the haversine formula
// (Sinnott 1984): exact on a sphere, within 0.6 % on the earth.
func kilometres(a, b farm.Position) float64 {
	const rad = math.Pi / 180
	dLat, dLng := (b.Lat-a.Lat)*rad, (b.Lng-a.Lng)*rad
	h := square(math.Sin(dLat/2)) + math.Cos(a.Lat*rad)*math.Cos(b.Lat*rad)*square(math.Sin(dLng/2))
	return 2 * earthKM * math.Asin(math.Min(1, math.Sqrt(h)))
}

func square(x float64) float64 { return x * x }

// cube is the kilometre-wide cube of space that a position lies in. Two
// places within a kilometre lie in the same or in touching cubes, at the
// poles and on both sides of the date line too.
type cube [3]int32

func cubeOf(p farm.Position) cube {
	const rad = math.Pi / 180
	sinLat, cosLat := math.Sincos(p.Lat * rad)
	sinLng, cosLng := math.Sincos(p.Lng * rad)
	at := func(x float64) int32 { return int32(math.Floor(x * earthKM)) }
	return cube{at(cosLat * cosLng), at(cosLat * sinLng), at(sinLat)}
}

// around yields c and the 26 cubes that touch it.
func (c cube) around(yield func(cube) bool) {
	for dx := int32(-1); dx <= 1; dx++ {
		for dy := int32(-1); dy <= 1; dy++ {
			for dz := int32(-1); dz <= 1; dz++ {
				if !yield(cube{c[0] + dx, c[1] + dy, c[2] + dz}) {
					return
				}
			}
		}
	}
}
