// Package core is the room above the core's rooms: it holds no code, only the house on one page.
//
// Data flows one way: text in → quantity → question → answer → text out.
//
//	quantity   types and units; the only reader and writer of numbers with units
//	measure    readings, meter accuracy, uncertainty, conformity to a band
//	winding    resistance and temperature
//	loop       the loaded test
//	drive      a pulsed winding: current, power, heat, what meters show of it
//	trace      a recording of a current: reading it, what it shows, what differs
//	fastener   wrench, adapter, thread, bolt; whether two printed torques agree
//	manual     a table of torques pasted from a manual, its figures compared
//	bolts      patterns of bolts and the order in which they are tightened
//	circuit    the chain, its faults, readings predicted by nodal analysis, ranking, the next test
//	lesson     a hidden fault, its readings, marking
//	code       trouble codes: structure, table, and the states that set them
//	wording    every sentence, once, in message catalogues; numbers in the reader's notation
//	sheet      an answer as it is laid out: elements as data, drawings, marks
//	tool       the declarations of the tools and the explicit list of them; requests, responses, faults
//	link       a request as a link, versioned
//	page       what the page asks at every keystroke: a half-filled form in, answer and notes out
//
// Imports run downwards only: quantity ← measure ← winding ← loop, drive; quantity ← fastener ← manual; measure ← trace;
// measure ← circuit ← lesson; quantity ← wording; bolts, code and sheet by themselves; all of them ← tool ← link ← page ← wasm
// and cmd. A test holds it. The core reads no file, no clock, no random number and no environment: the same request gives the
// same answer wherever it runs.
package core
