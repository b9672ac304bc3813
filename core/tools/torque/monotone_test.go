package torque_test

import (
	"testing"

	"github.com/stretchr/testify/require"
)

const up, down, still = 1.0, -1.0, 0.0

// A move says how figures of the result change as one value of the request grows.
type move struct {
	what  string
	with  func(v float64) request
	from  float64
	to    float64
	moves map[string]float64
}

func (m move) check(t *testing.T) {
	last := map[string]float64{}
	for k := range 40 {
		got := answer(t, m.with(m.from+(m.to-m.from)*float64(k)/39))
		for path, way := range m.moves {
			v := got.at(t, path)
			if was, ok := last[path]; ok && way != still {
				require.Positive(t, (v-was)*way, "torque: as %s grows, %s goes the wrong way, from %v to %v", m.what, path, was, v)
			} else if ok {
				require.Equal(t, was, v, "torque: as %s grows, %s must not change", m.what, path)
			}
			last[path] = v
		}
	}
}

// TestMonotone checks in which direction figures move as one value grows and everything else stays.
func TestMonotone(t *testing.T) {
	for _, m := range append(levers, threads...) {
		m.check(t)
	}
}

// adapted asks for 30 N·m with an adapter on a 300 mm wrench.
func adapted(extension, angle string) request {
	return request{"torque": "30 N.m", "adapter": request{"wrench": "300 mm", "extension": extension, "angle": angle}}
}

var levers = []move{
	{"torque", func(v float64) request {
		return request{"torque": text(v, -1, "N.m"), "adapter": request{"wrench": "300 mm", "extension": "50 mm", "angle": "30 deg"},
			"wrench":   request{"kind": "electronic", "min": "0.1 N.m", "max": "1e4 N.m"},
			"fastener": request{"thread": "M8", "class": "8.8", "into": "aluminium", "engagement": "12 mm"}}
	}, 1, 20, map[string]float64{"setting.value": up, "wrench_check.reached.min.value": up, "wrench_check.reached.max.value": up,
		"fastener.preload_at.value": up, "fastener.preload_band.max.value": up, "fastener.stressed.value": up,
		"fastener.strip_check.engagement_needed.value": up, "fastener.strip_check.load.min.value": still, "fastener.torque.value": still}},
	{"angle", func(v float64) request { return adapted("100 mm", text(v, -1, "deg")) },
		0, 180, map[string]float64{"setting.value": up, "reach.value": down, "torque.value": still}},
	{"extension, straight on", func(v float64) request { return adapted(text(v, -1, "mm"), "0 deg") },
		1, 299, map[string]float64{"setting.value": down, "reach.value": up}},
	{"extension, folded back", func(v float64) request { return adapted(text(v, -1, "mm"), "180 deg") },
		1, 239, map[string]float64{"setting.value": up, "reach.value": down}},
	{"deviation", func(v float64) request {
		return request{"torque": "30 N.m", "wrench": request{"max": "60 N.m", "deviation": text(v, -1, "%")}}
	}, 0.5, 40, map[string]float64{"wrench_check.reached.min.value": down, "wrench_check.reached.max.value": up}},
}

// screwed asks for 10 N·m on an M6 bolt of class 8.8. more are further fields of the fastener.
func screwed(more request) request {
	more["thread"], more["class"] = "M6", "8.8"
	return request{"torque": "10 N.m", "fastener": more}
}

var threads = []move{
	{"friction", func(v float64) request { return screwed(request{"friction": v}) }, 0.07, 0.5, map[string]float64{
		"fastener.preload.value": down, "fastener.preload_at.value": down, "fastener.torque.value": up, "fastener.proof_load.value": still}},
	{"scatter of friction", func(v float64) request { return screwed(request{"friction": 0.2, "friction_within": v}) }, 0.001, 0.17,
		map[string]float64{"fastener.preload_band.min.value": down, "fastener.preload_band.max.value": up,
			"fastener.stressed_max.value": up, "fastener.preload_at.value": still}},
	{"utilisation", func(v float64) request {
		return request{"fastener": request{"thread": "M6", "class": "8.8", "utilisation": text(v, -1, "%")}}
	}, 10, 100, map[string]float64{"fastener.preload.value": up, "fastener.torque.value": up, "fastener.stressed.value": up}},
	{"engagement", func(v float64) request {
		return screwed(request{"into": "cast_iron", "engagement": text(v, -1, "mm")})
	}, 1, 15, map[string]float64{"fastener.strip_check.load.min.value": up, "fastener.strip_check.load.max.value": up,
		"fastener.strip_check.engagement_needed.value": still}},
}

// TestStrongerHoldsMore checks that a stronger class takes more torque, and so does a larger thread.
func TestStrongerHoldsMore(t *testing.T) {
	last := 0.0
	for _, class := range []string{"4.8", "5.8", "8.8", "9.8", "10.9", "12.9"} {
		v := answer(t, request{"fastener": request{"thread": "M6", "class": class}}).at(t, "fastener.torque.value")
		require.Greater(t, v, last)
		last = v
	}
	last = 0.0
	for _, thread := range []string{"M1.6", "M2", "M2.5", "M3", "M3.5", "M4", "M5", "M6", "M7", "M8", "M10", "M12", "M14", "M16", "M18",
		"M20", "M22", "M24"} {
		v := answer(t, request{"fastener": request{"thread": thread, "class": "10.9"}}).at(t, "fastener.torque.value")
		require.Greater(t, v, last)
		last = v
	}
}
