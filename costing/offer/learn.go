package offer

// Chances is what the cases of a doubt are thought to be, and how many of the shop's own motors stand
// behind it.
type Chances struct {
	Each []float64 // adding up to one
	Own  int
}

// Learn updates chances with what own motors turned out to be. Prior is a Dirichlet's pseudo-counts, one a
// case, and found the count of own motors of each: the chance of a case is then
//
//	(prior + found) / (sum of priors + sum of found)
//
// the mean of the posterior Dirichlet (Gelman and others, Bayesian Data Analysis, 3rd edition, section
// 3.4). Without any prior or outcome all cases are alike.
func Learn(prior []float64, found []int) Chances {
	out := Chances{Each: make([]float64, len(prior))}
	sum := 0.0
	for i, p := range prior {
		out.Each[i] = max(0, p)
		if i < len(found) {
			n := max(0, found[i])
			out.Each[i] += float64(n)
			out.Own += n
		}
		sum += out.Each[i]
	}
	for i := range out.Each {
		if sum > 0 {
			out.Each[i] /= sum
		} else {
			out.Each[i] = 1 / float64(len(prior))
		}
	}
	return out
}

// After is what chances become once a check gave a result: each times how likely the case makes that
// result (Bayes). A result that no case can give leaves them as they were.
func After(chances, likely []float64) []float64 {
	out := make([]float64, len(chances))
	sum := 0.0
	for i, c := range chances {
		if i < len(likely) {
			out[i] = c * likely[i]
		}
		sum += out[i]
	}
	if !(sum > 0) {
		copy(out, chances)
		return out
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}
