package tool

// All is the explicit list of tools, in the order in which a menu shows them. To add a tool, add its file and a line.
var All = []*Tool{
	Winding.prepare(),
	Loop.prepare(),
	Circuit.prepare(),
	Torque.prepare(),
	TroubleCode.prepare(),
	Drive.prepare(),
	Trace.prepare(),
	Exercise.prepare(),
}
