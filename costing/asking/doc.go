// Package asking tells what to ask for a motor, below what to keep it, and what waiting is worth.
//
// One model stands behind all of it. The motor has a worth that nobody knows: its resale band. A buyer
// comes after a time that package timetosell tells: the higher the ask stands above the worth, the later,
// and later out of season. He would pay so much:
//
//	ln(would pay / ask) = h + g (ln(ask / worth) - u) + s e,    e ~ N(0, 1)
//
// and pays that or the ask, whichever is less. The constant u is the usual way of asking: 6 % above the worth,
// at which half the buyers would pay less than exp(h) of the ask, about the worth itself; of what is asked
// beyond that a buyer takes the share -g off again. A sale at its ask teaches that he would have paid no less,
// one below it teaches what he would pay: h, g and s are learned as by a Tobit regression, with the code that
// learns days from motors sold and unsold. What a sold motor was worth is told by its price as well as by its
// band. After a buyer who was sent away the next one comes as if the first had not been.
//
// A motor whose worth is less than was thought thus stands longer and brings less, and one that has stood
// long without a buyer is likely to be worth less: an answer is an average over many worlds, each with a
// worth, days and haggling of its own, weighed by what has been seen so far.
//
// In each world the net of a policy is worked out backwards, day by day: take any buyer from the walk-away
// price of that day on, which is what waiting is then worth, given that just such an offer was made. This is
// optimal stopping in the manner of selling a house (S. Ross, Introduction to Stochastic Dynamic
// Programming, 1983; J. J. McCall, Economics of Information and Job Search, 1970), to which it reduces in a
// single world with no last day.
package asking
