// Package bolts places the bolts of a plate and puts them into the order in which they are tightened: from the centre
// outwards, crossing sides, and not from a bolt to its neighbour.
package bolts
