// Package picture draws the charts: gonum/plot on device pixels with the theme's colours and font, a
// readout under the mouse, and the same drawing as a PNG without a display. Charts are fed with plain
// values and work nothing out.
package picture
