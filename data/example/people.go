package example

import (
	"math/rand/v2"

	"skegworth/costing"
)

// Everybody and every place here is invented.
var (
	sellers = []string{"Mrs. Ravell, Lowmarsh Road", "T. Ambrose", "Old Mr. Quill", "Lowfield Boatyard", "the Pennick brothers",
		"J. Marlow-Reed", "Estate of W. Tarrant", "Coble Farm", "D. Sorley", "Wrenmouth Scouts", "a man at the Fallow Lake ramp",
		"Ida Brask", "K. Ostrander", "Greyling Ferry"}
	buyers = []string{"R. Penhale", "Family Dorn", "Saltby Sailing School", "M. Ekwall", "C. Thorne", "Fallow Lake Hire", "A. Bellweather",
		"P. Sandoe", "L. Vickery", "Hollis & son", "E. Marchetti-Lund", "Wrenmouth Harbour Office", "B. Okonjo-Hale", "S. Treloar"}
	sources    = []string{"card in the chandlery", "marketplace", "word of mouth", "boatyard clear-out", "Wrenmouth auction", "roadside"}
	channels   = []string{"marketplace", "notice board", "word of mouth", "harbour fair"}
	newParts   = []string{"Northquay Spares", "Pellow Marine"}
	otherParts = []string{"Harbour Supply", "Tern & Tide"}
	usedParts  = []string{"Gannet Breakers", "Wrenmouth swap meet"}
	outsiders  = []string{"Ansty Machine Shop", "Lockhouse Propellers"}
)

func supplier(r *rand.Rand, k costing.Kind) string {
	switch k {
	case costing.PartNew:
		return oneOf(r, newParts...)
	case costing.PartUsed:
		return oneOf(r, usedParts...)
	case costing.Outside:
		return oneOf(r, outsiders...)
	}
	return oneOf(r, otherParts...)
}
