// Package widgets has the controls every screen is built from.
//
// A screen is one [Frame]: a list on the left, and for the thing chosen there an answer, a picture and
// the working. Lists are a [Table]; what is typed is an [Entry] or one of its kin in a [Field]; a motor
// is described in one [MotorForm]. All of them work by keyboard alone, save as they are typed in, and
// are laid out by [Column], [Flow] and [Columns], which know how high a wrapped text grows at a width.
//
// Everything here runs on the window's own thread, and every word it is given is already in the user's
// language: through lang.X with a key, or through [Say] for sentences that arithmetic has to tell.
package widgets
