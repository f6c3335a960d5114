// Package part holds the pieces that several screens are built of: the frame
// around a screen, fields, choices, verdicts, cautions, acceptance values and
// the notes on where a value comes from.
//
// A piece that reacts to the user is a component: attributes are exported
// fields, set in a literal; state is unexported; what happens goes to the
// screen through the On… fields. A piece that only shows something is a
// function that returns its element. None of them knows the job at hand.
package part
