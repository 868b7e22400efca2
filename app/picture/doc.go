// Package picture draws the charts: gonum/plot on device pixels with the theme's colours and letters, a
// readout under the mouse, and the same drawing as a PNG without a display. Charts are fed with plain
// values and work nothing out.
//
// A chart fills in a sheet: its axes, a key, named marks, and layers to draw. The sheet settles where all
// of that goes, so that no label touches another at any size, and knows where a value lies and which value
// lies at a place. The same sheet serves the window, the mouse and a picture file. What a chart tells is
// told by shape, texture or words, and by colour only beside them.
//
// go test ./app/picture -run TestGallery -args -pictures DIR writes all charts into a folder, to look at
// after a change.
package picture
