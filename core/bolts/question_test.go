package bolts

import (
	"slices"
	"sync"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"ohmwright/core/fastener"
)

// squareOfFour asks for the order of four bolts at the corners of a square. A fifth in the middle stays in place.
func squareOfFour() Question {
	return Question{
		Bolts: []Bolt{{Point: Point{0, 0}, Length: 30}, {Point: Point{80, 0}, Length: 40}, {Point: Point{40, 40}, Kept: true},
			{Point: Point{80, 80}, Length: 30}, {Point: Point{0, 80}}},
		Passes: []Pass{{Kind: Snug}, {Kind: ToShare, Share: 0.5}, {Kind: Check}},
		Torque: fastener.Question{Torque: 10},
	}
}

// TestFind checks order, passes and counts against values worked out by hand.
func TestFind(t *testing.T) {
	f := squareOfFour().Find()
	require.Len(t, f.Order, 4)
	assert.NotContains(t, f.Order, 2, "a bolt that is not to be undone")
	assert.Zero(t, f.Bolts[2].Number)
	for k, i := range f.Order {
		assert.Equal(t, k+1, f.Bolts[i].Number)
	}
	assert.Equal(t, []LengthCount{{30, 2}, {40, 1}, {0, 1}}, f.Lengths)
	assert.Equal(t, 12, f.Steps)
	assert.Zero(t, f.Passes[0].Torque, "by hand")
	assert.EqualValues(t, 5, f.Passes[1].Torque)
	assert.EqualValues(t, 10, f.Passes[2].Setting)
	assert.Empty(t, f.Doubts)
	pass, place := f.At(6)
	assert.Equal(t, []int{1, 2}, []int{pass, place})
}

// TestDoubts checks each doubt with a question that raises it.
func TestDoubts(t *testing.T) {
	for want, change := range map[Doubt]func(*Question){
		PassesFall:  func(q *Question) { q.Passes = []Pass{{Kind: Check}, {Kind: ToShare, Share: 0.5}} },
		PassesShort: func(q *Question) { q.Passes = q.Passes[:2] },
		PassLow:     func(q *Question) { q.Torque.Wrench = fastener.Wrench{Max: 30} },
		Coincide:    func(q *Question) { q.Bolts[1].Point = q.Bolts[0].Point },
		Changed:     func(q *Question) { q.Counted = &Count{Done: 3, Of: "0"} },
	} {
		q := squareOfFour()
		change(&q)
		assert.Equal(t, []Doubt{want}, q.Find().Doubts)
	}
	q := squareOfFour()
	q.Bolts = make([]Bolt, 5)
	assert.Equal(t, []Doubt{Coincide, Neighbour}, q.Find().Doubts, "five bolts in one place")
}

// TestCountHolds checks that a count of steps is valid only for the same places, passes and torques.
func TestCountHolds(t *testing.T) {
	of := squareOfFour().Find().Of
	counted := func(done int, change func(*Question)) Finding {
		q := squareOfFour()
		change(&q)
		q.Counted = &Count{Done: done, Of: of}
		return q.Find()
	}
	same := func(*Question) {}
	assert.True(t, counted(12, same).UnderWay())
	assert.False(t, counted(13, same).UnderWay(), "more steps than there are")
	assert.True(t, counted(5, func(q *Question) { q.Bolts[0].Length = 20 }).UnderWay(), "a length changes no order")
	assert.False(t, counted(5, func(q *Question) { q.Torque.Torque = 11 }).UnderWay())
	assert.False(t, counted(5, func(q *Question) { q.Bolts[0].Y = 1 }).UnderWay())
	assert.False(t, counted(5, func(q *Question) { q.Torque.Adapter = &fastener.Adapter{Wrench: 300, Extension: 50} }).UnderWay())
}

// TestOrderIsFoundAgain checks that the order that is kept is only that of the same places, by questions in turn, some at once.
func TestOrderIsFoundAgain(t *testing.T) {
	circle := Circle(9, 100)
	plates := [][]Point{circle, circle[:8], {{0, 0}, {80, 0}, {80, 80}, {0, 80}}, {{0, 0}, {80, 0}, {80, 80}, {0, 81}}, nil}
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for k := range 60 {
				at := plates[k/2%len(plates)]
				order, adjacent := orderedAgain(slices.Clone(at))
				assert.Equal(t, Order(at), order)
				assert.Equal(t, AdjacentSteps(order, at), adjacent)
			}
		})
	}
	all.Wait()
}
