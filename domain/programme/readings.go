package programme

// growthLate is by how many days the weights move the harvest.
func (r *run) growthLate(own *pass, toStocking float64) int { return 0 }
