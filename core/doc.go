// Package core is the room above the core's rooms: it holds no code, only the house on one page.
//
// Data flows one way: text in → quantity → question → finding → answer → text out.
//
//	portable    functions such as e^x, with the same bits on every machine
//	quantity    types and units; the only reader and writer of numbers with units
//	measure     readings, meter accuracy, uncertainty, conformity to a band
//	winding     resistance and temperature
//	loop        the loaded test
//	bank        all windings of one body: each, the odd one among alike, beside a second unit
//	drive       a pulsed winding: current, power, heat, what meters show of it
//	recording   a recorded current, read from a file's text
//	trace       what a recording shows: period, ramp, plunger, contacts
//	fastener    torque wrench, adapter, pair of figures, thread, class, preload, strip
//	manual      a table pasted from a manual, held against itself
//	bolts       patterns of bolts and the order in which they are tightened
//	circuit     the chain, its faults, readings predicted by nodal analysis
//	doubt       what nobody knows exactly: in pieces, and readings that share it
//	selfcheck   which codes a control unit's own checks set, and how likely one is that is stored
//	pair        two faults that together explain readings
//	evidence    how likely readings are under each fault of the circuit
//	diagnosis   which part is at fault, the next test, the decision
//	lesson      a hidden fault, its readings, marking
//	spelling    one spelling of a name, however it was typed
//	worksheet   a class's sheet: figures for each name, what is right, slips, marks
//	code        trouble codes: structure, table, and the states that set them
//	job         the document of one job: facts, forms, and entries that are corrected and never changed
//	handover    a job's record looked through: counts that match, what is open, what is missing
//
// These answer questions without words. What words them:
//
//	wording     the speaker, the shared words, numbers in the reader's notation
//	jsontext    JSON, read and written
//	sheet       an answer as it is laid out: elements as data, drawings, marks
//	tool        what a tool is: fields and their typed handles, reading a request, faults, answers, layout, schema
//	bench       fields that several tools share: meter, conductor, temperature, specification
//	tools/NAME  one tool: declaration, reading, telling, sheet, drawing, words
//	tools       the list of tools, and what is asked of the list
//	link        a request as a link, versioned
//	markbook    a class's table: hand-ins found in what was pasted, each marked anew
//	page        what the page asks at every keystroke: a half-filled form in, answer and notes out
//
// A tool answers in four steps, each knowing less of the request than the one before: read (record → question), find (question →
// finding, no words), tell (finding → result, warnings, cautions, working), lay (question and finding → elements).
//
// Imports run downwards only; imports_test.go has the arrows and holds them. The core reads no file, no clock, no random number
// and no environment: the same request gives the same answer wherever it runs.
package core
