package code

import "strings"

// A Failure is the table's word for how the circuit of a code fails.
type Failure string

// The failures.
const (
	Low          Failure = "low"
	High         Failure = "high"
	Open         Failure = "open"
	Range        Failure = "range"
	Circuit      Failure = "circuit"
	Device       Failure = "device"
	Electrical   Failure = "electrical"
	Performance  Failure = "performance"
	Intermittent Failure = "intermittent"
	Shorted      Failure = "shorted"
	StuckOn      Failure = "stuck_on"
	StuckOpen    Failure = "stuck_open"
	StuckClosed  Failure = "stuck_closed"
)

// An Entry is a code's circuit and failure in the table. A code that is not in the table has the zero Entry.
type Entry struct {
	Circuit string // a description, not the standard's sentence
	Failure Failure
}

// failures holds, for each failure, its letter in the table and its meaning.
var failures = [...]struct {
	Failure
	letter byte
	kind   kind
}{
	{Low, 'l', low}, {High, 'h', high}, {Open, 'o', open}, {Range, 'r', outOfRange}, {Circuit, 'c', unsaid}, {Device, 'd', unsaid},
	{Electrical, 'e', unsaid}, {Performance, 'p', performance}, {Intermittent, 'i', intermittent}, {Shorted, 's', shorted},
	{StuckOn, 'n', stuckOn}, {StuckOpen, 'y', stuck}, {StuckClosed, 'z', stuck},
}

// failureOf returns the failure for a letter of the table.
func failureOf(letter byte) Failure {
	for i := range failures {
		if failures[i].letter == letter {
			return failures[i].Failure
		}
	}
	return ""
}

// Find looks the code up in the table of standard codes that name a solenoid or its circuit. Source: public lists that restate
// SAE J2012. Checked in code_test.go against every row of testdata/codes.tsv.
func (c Code) Find() (Entry, bool) {
	if c.letter != 'P' {
		return Entry{}, false // the table has only P codes
	}
	for rest := table; rest != ""; {
		var line string
		line, rest, _ = strings.Cut(rest, "\n")
		circuit, runs, _ := strings.Cut(line, "=")
		for runs != "" {
			var run string
			run, runs, _ = strings.Cut(runs, " ")
			if n := int(c.number) - int(number(run[:4])); 0 <= n && n < len(run)-4 {
				return Entry{circuit, failureOf(run[4+n])}, true
			}
		}
	}
	return Entry{}, false
}

// Feed reports whether the circuit feeds several loads instead of one.
func (e Entry) Feed() bool { return strings.Contains(e.Circuit, "supply voltage") }

// UnitPower reports whether the circuit is the control unit's own supply and ground, and no load's. A relay that feeds the unit is
// a load of its own: its winding is switched as any other.
func (e Entry) UnitPower() bool { return strings.HasSuffix(e.Circuit, "power input") }

// table has a line for each circuit: its description and runs of codes. A run is the digits of its first code, and a letter for the
// failure of that code and of each following number. This form compresses to 1.5 kB in the page's module, and is only read when
// a code is looked up.
const table = `fuel volume regulator control circuit=0001orlh
fuel shut-off valve A control circuit=0005olh
camshaft position actuator A, bank 1, circuit (open)=0010c
camshaft position actuator B, bank 1, circuit (open)=0013c
camshaft profile A, bank 1 control circuit=001Aolh
camshaft profile A, bank 2 control circuit=001Dolh
camshaft position actuator A, bank 2, circuit (open)=0020c
camshaft position actuator B, bank 2, circuit (open)=0023c
intake valve-control solenoid, bank 1=0026r 0075clh
exhaust valve-control solenoid, bank 1=0027r 0078cl 0080h
intake valve-control solenoid, bank 2=0028r 0081clh
exhaust valve-control solenoid, bank 2=0029r 0084clh
camshaft profile B, bank 1 control circuit=002Aolh
camshaft profile B, bank 2 control circuit=002Dolh
turbo bypass valve control circuit=0033clh
turbo/supercharger bypass valve control circuit=0039r
fuel pressure regulator 1 control circuit=0090clh
injector circuit (any)=0200c
injector circuit, cylinder 1=0201c 0261lh 02EEr
injector circuit, cylinder 2=0202c 0264lh 02EFr
injector circuit, cylinder 3=0203c 0267lh 02F0r
injector circuit, cylinder 4=0204c 0270lh 02F1r
injector circuit, cylinder 5=0205c 0273lh 02F2r
injector circuit, cylinder 6=0206c 0276lh 02F3r
injector circuit, cylinder 7=0207c 0279l 0280h 02F4r
injector circuit, cylinder 8=0208c 0282lh 02F5r
injector circuit, cylinder 9=0209c 0285lh 02F6r
injector circuit, cylinder 10=0210c 0288lh 02F7r
injector circuit, cylinder 11=0211c 0291lh 02F8r
injector circuit, cylinder 12=0212c 0294lh 02F9r
cold-start injector 1=0213d
cold-start injector 2=0214d
engine shut-off solenoid=0215d
turbo wastegate solenoid A=0243drlh
turbo wastegate solenoid B=0247drl 0250h
EGR (A) control circuit=0403cr
secondary-air switching valve A=0412cos
secondary-air switching valve B=0415cos
EVAP purge valve circuit=0443cos 0458lh
EVAP vent valve circuit=0446cos
EVAP vent valve/solenoid circuit=0449c
EGR B control circuit=045Acrlh
exhaust pressure control valve=0475drlhi
EGR throttle A control circuit=0487or 2141lh
EGR A control circuit=0489l 0490h
EVAP vent valve control circuit=0498lh
idle-air control circuit=0508lh 0511c 0518i
idle-air control system=0519p
cruise-control vacuum control=0582olh
cruise-control vent control=0586olh
thermostat heater control=0597olh
A/C clutch relay control circuit=0645clh
actuator supply voltage A (common high-side feed)=0657olh
intake-manifold tuning valve, bank 1=0660olh
intake-manifold tuning valve, bank 2=0663olh
ECM/PCM power-relay control circuit=0685olh
torque-converter clutch solenoid=0740cpnei
pressure-control solenoid A=0745dpnei
shift solenoid A=0750dpnei
shift solenoid B=0755dpnei
shift solenoid G=075Adpnei
shift solenoid C=0760dpnei
shift solenoid D=0765dpnei
shift solenoid H=076Adpnei
shift solenoid E=0770dpnei
pressure-control solenoid B=0775dpnei
shift-timing solenoid (A)=0785drlhi
shift-timing solenoid B=078Adrlhi
pressure-control solenoid C=0795dpnei
reverse-inhibit control circuit=0801c
1-4 upshift (skip-shift) solenoid control circuit=0803c
transmission control unit power input=0880orlhi
TCM power-relay control circuit=0885olh
clutch actuator circuit=0900orlh
pressure-control solenoid A control circuit=0960orlh
pressure-control solenoid B control circuit=0964orlh
pressure-control solenoid C control circuit=0968or 0970lh
shift solenoid A control circuit=0972rlh
shift solenoid B control circuit=0975rlh
shift solenoid C control circuit=0978rl 0980h
shift solenoid D control circuit=0981rlh
shift solenoid E control circuit=0984rlh
shift solenoid F control circuit=0997rlh
intake-manifold runner control, bank 1=2008ol 2010h
intake-manifold runner control, bank 2=2011olh
reductant injector, bank 1 unit 1=2047olh
reductant injector, bank 2 unit 1=2050olh
camshaft position actuator A, bank 1, control circuit=2088lh
camshaft position actuator B, bank 1, control circuit=2090lh
camshaft position actuator A, bank 2, control circuit=2092lh
camshaft position actuator B, bank 2, control circuit=2094lh
EGR vent control circuit=2143olh
injector group A supply voltage=2146olh
injector group B supply voltage=2149o 2150lh
injector group C supply voltage=2152olh
injector group D supply voltage=2155olh
fuel pressure regulator 2 control circuit=2294clh
EVAP switching valve control circuit=2418ol 2420h
EVAP vent valve=2421yz
EGR cooling-valve control circuit=2425olh
injector control-pressure regulator circuit=2623olh
rocker-arm actuator A, bank 1=2645opnlh
rocker-arm actuator B, bank 1=2650opnlh
rocker-arm actuator A, bank 2=2655opnlh
rocker-arm actuator B, bank 2=2660opnlh
fuel shut-off valve B control circuit=2665olh
actuator supply voltage B (common high-side feed)=2669o 2670lh
shift solenoid F=2706dpne 2710i
pressure-control solenoid D=2713dpneior 2720lh
pressure-control solenoid E=2722dpneiorl 2730h
pressure-control solenoid F=2731dpneiorlh
transmission cooler control circuit=2753olh
TCC pressure-control solenoid=2756dpne 2760iorhl
torque-converter clutch circuit=2769l 2770h
pressure-control solenoid G=2808pn 2811iorlh
pressure-control solenoid H=2816dpn 281Aiorl
pressure-control solenoid J=281Fdpneiorlh
pressure-control solenoid K=2828dpneiorlh
cylinder 1 deactivation / intake-valve control=3401orlh
cylinder 1 exhaust-valve control=3405orlh
cylinder 2 deactivation / intake-valve control=3409o 3410rlh
cylinder 2 exhaust-valve control=3413orlh
cylinder 3 deactivation / intake-valve control=3417orl 3420h
cylinder 3 exhaust-valve control=3421orlh
cylinder 4 deactivation / intake-valve control=3425orlh
cylinder 4 exhaust-valve control=3429o 3430rlh
`
