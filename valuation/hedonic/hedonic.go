// Package hedonic is Bayesian linear regression that knows no motors: columns and a prior in, a
// predictive distribution out.
//
// The model is the conjugate normal-inverse-gamma one (Gelman et al., Bayesian Data Analysis 3e,
// chapter 14; O'Hagan and Forster, Bayesian Inference 2e, chapter 11):
//
//	y | beta, s2  ~ N(X beta, s2 W^-1)
//	beta | s2     ~ N(m0, s2 tau2 D)      s2 ~ InvGamma(a0, b0)
//
// so that every answer is closed form:
//
//	Vn = (D^-1/tau2 + X'WX)^-1            mn = Vn (D^-1 m0/tau2 + X'Wy)
//	an = a0 + n/2                         bn = b0 + (y'Wy + m0'D^-1 m0/tau2 - mn'Vn^-1 mn)/2
//	y* ~ Student-t(2an, x*'mn, (bn/an)(1/w* + x*'Vn x*))
//
// What the prior leaves open (how far to trust it, how far groups of columns differ, whether columns speak
// apart or together, how heavy the tails of residuals are) is not picked but averaged over, by how likely
// each possibility makes the data (Hoeting, Madigan, Raftery and Volinsky, Bayesian Model Averaging,
// Statistical Science 14, 1999): the answer is a mixture of Student-t's. Tails are weighed by how well
// each row is foretold from the others, since their likelihood has no closed form.
//
// The opinion of the package: callers state what they believe of each coefficient in the units of y,
// as a mean and a spread, and say so plainly where they believe nothing (a spread of +Inf). Nothing is
// inverted and nothing is solved twice: one QR of the weighted rows takes out the columns without a belief,
// the singular values of the rest answer every tau and every lean, and leaving one row out is algebra on
// the same figures. What cannot be answered is refused with a sentence, and nothing returned is ever NaN.
//
// A column without a belief is flat in the classical sense and costs one degree of freedom, so that with
// all columns flat and Strength 0 the answers are those of ordinary least squares: standard errors,
// n-k degrees of freedom and prediction intervals included.
package hedonic
