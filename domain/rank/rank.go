// Package rank finds order statistics without sorting.
package rank

// Pick puts the element of rank r of x[low:high] in its place, smaller ones
// before and larger ones after it (Hoare's FIND, middle of three as pivot).
func Pick[F float32 | float64](x []F, low, high, r int) {
	for high-low > 1 {
		a, b, c := x[low], x[low+(high-low)/2], x[high-1]
		pivot := max(min(a, b), min(max(a, b), c))
		i, j := low, high-1
		for i <= j {
			for x[i] < pivot {
				i++
			}
			for x[j] > pivot {
				j--
			}
			if i <= j {
				x[i], x[j] = x[j], x[i]
				i++
				j--
			}
		}
		switch {
		case r <= j:
			high = j + 1
		case r >= i:
			low = i
		default:
			return
		}
	}
}
