// Package backup keeps copies of a shop file: it makes them while the shop is in use, makes sure of each,
// thins them out as they grow old, and puts one back in place of a shop file that was spoilt, lost or
// damaged.
//
// Nothing here needs the shop file to be sound, or to be there: its copies are found by its path.
package backup
