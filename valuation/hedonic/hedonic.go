// Package hedonic is Bayesian linear regression that knows no motors: columns and a prior in, a
// predictive distribution out.
//
// The model is the conjugate normal-inverse-gamma one (Gelman et al., Bayesian Data Analysis 3e,
// chapter 14; O'Hagan and Forster, chapter 11):
//
//	y | beta, s2  ~ N(X beta, s2 W^-1)
//	beta | s2     ~ N(m0, s2 tau2 D)      s2 ~ InvGamma(a0, b0)
package hedonic
