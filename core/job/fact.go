package job

// A FactKind says what sort of value a fact is. It is the shape of the fields that hold it.
type FactKind string

// The kinds of facts.
const (
	Words    FactKind = "words"    // free text
	Choice   FactKind = "choice"   // one of a few words
	Quantity FactKind = "quantity" // a number with its unit
	Group    FactKind = "group"    // several values under names
	Rows     FactKind = "rows"     // a list of such groups
)

// A Fact is something that holds for the whole job and is entered once.
type Fact struct {
	Name string
	Kind FactKind
}

// AllFacts lists the facts of a job. A field of a tool says which one it is; a test holds that it is of that kind.
var AllFacts = []Fact{
	{"vehicle", Words}, {"tag", Words}, {"odometer", Words}, {"complaint", Words}, {"who", Words},
	{"code", Words}, {"failure_type", Words}, {"code_kind", Choice},
	{"supply", Quantity}, {"supply_within", Quantity},
	{"side", Choice}, {"return", Choice}, {"inner_harness", Choice}, {"fault_present", Choice},
	{"specs", Rows}, {"spec", Group}, {"settled", Group},
	{"winding_temperature", Quantity}, {"winding_temperature_within", Quantity}, {"material", Choice},
	{"meter", Group}, {"clamp", Group},
	{"driver", Group}, {"driver.kind", Choice}, {"driver.at", Quantity},
	{"costs", Group}, {"minutes", Group},
}

// A Need is something that a record of a job usually holds. Where it is missing the record says "not recorded", rather than nothing.
type Need string

// What a record usually needs: common practice of warranty records (complaint, cause, correction; the vehicle; what was measured and how).
const (
	NeedComplaint   Need = "complaint"
	NeedCause       Need = "cause"
	NeedRepair      Need = "repair"
	NeedVehicle     Need = "vehicle"
	NeedTag         Need = "tag"
	NeedOdometer    Need = "odometer"
	NeedReadings    Need = "readings"
	NeedTemperature Need = "temperature" // of every reading of a resistance
	NeedMeter       Need = "meter"       // of every reading
	NeedWho         Need = "who"
	NeedReread      Need = "reread" // codes cleared and read again
	NeedRoadTest    Need = "road_test"
)

// Needs lists them in the order of a record.
var Needs = []Need{NeedVehicle, NeedTag, NeedOdometer, NeedComplaint, NeedReadings, NeedTemperature, NeedMeter, NeedCause, NeedRepair,
	NeedReread, NeedRoadTest, NeedWho}

// Missing returns the needs that are not recorded, in the order of a record.
func Missing(recorded func(Need) bool) []Need {
	missing := []Need{}
	for _, n := range Needs {
		if !recorded(n) {
			missing = append(missing, n)
		}
	}
	return missing
}
