package repertoire

import (
	"math/big"
	"slices"
	"strconv"
	"strings"
)

// An Event is a stroke in time, both counted in matras: when it falls after the
// first matra of its composition, and the share it was written with.
type Event struct {
	At, Share *big.Rat
	Stroke    *Stroke
	Text      string
}

// Events returns the strokes of the composition in time.
func (n Notation) Events() []Event {
	var events []Event
	for i, m := range n.Matras() {
		share := big.NewRat(1, int64(len(m.Cells)))
		for j, c := range m.Cells {
			if c.Stroke != nil {
				events = append(events, Event{plus(whole(i), product(j, share)), share, c.Stroke, c.Text})
			}
		}
	}
	return events
}

// A Slot is one matra of a cycle and what is played in it.
type Slot struct {
	Cycle, Vibhag, Matra int    // all counted from 1
	Sign                 string // of the vibhag, on its first matra
	Text                 string // "" outside the composition
}

// Signs are how a tala's claps and waves are written.
type Signs int

const (
	Bhatkhande Signs = iota // sam X, later talis 2 3 4, khali 0
	Paluskar                // sam 1, khali +, talis by their matra
)

// Sign returns the sign of the vibhag that begins on that matra. A sam that is
// khali itself, as in rupak, is written as khali, and the first clap after it
// is 1 (from memory; both are open notations of the trade).
func (t Tala) Sign(matra int, signs Signs) string {
	if slices.Contains(t.Khali, matra) {
		return [...]string{Bhatkhande: "0", Paluskar: "+"}[signs]
	}
	tali := slices.Index(t.Tali, matra)
	switch {
	case tali < 0:
		return ""
	case signs == Paluskar:
		return strconv.Itoa(matra)
	case matra == 1:
		return "X"
	}
	return strconv.Itoa(tali + 1)
}

// LayOut puts a composition of that many matras on the cycles of a tala,
// beginning start matras after a sam and played at speed, so many times as fast
// as it is written.
func LayOut(t Tala, n Notation, start, speed *big.Rat, signs Signs) []Slot {
	written := n.Matras()
	length := over(whole(len(written)), speed)
	matras := ceil(plus(start, length))
	begins, inside := floor(start)
	asWritten := inside.Sign() == 0 && same(speed, whole(1))

	var events []Event
	if !asWritten {
		for _, e := range n.Events() {
			events = append(events, Event{plus(start, over(e.At, speed)), over(e.Share, speed), e.Stroke, e.Text})
		}
	}
	slots := t.slots(matras, signs)
	for i := range slots {
		switch {
		case i < begins:
		case asWritten:
			slots[i].Text = written[i-begins].Text
		default:
			slots[i].Text = fill(i, &events, "")
		}
	}
	return slots
}

// slots returns the first n matras of cycles of the tala, empty.
func (t Tala) slots(n int, signs Signs) []Slot {
	slots := make([]Slot, 0, n)
	for cycle := 1; len(slots) < n; cycle++ {
		matra := 1
		for v, size := range t.Vibhags {
			for i := range size {
				s := Slot{Cycle: cycle, Vibhag: v + 1, Matra: matra}
				if i == 0 {
					s.Sign = t.Sign(matra, signs)
				}
				slots = append(slots, s)
				matra++
			}
		}
	}
	return slots[:n]
}

// mostShares is into how many shares a matra is written out; finer ones, as of
// groups of five and seven side by side at a laya, are strokes with commas.
const mostShares = 64

// fill takes from events, which are in order, those that fall in the matra, and
// writes them, with that between them, and a pause for every share in which none
// begins.
func fill(matra int, events *[]Event, between string) string {
	from := whole(matra)
	shares := big.NewInt(1)
	var inside []Event
	for len(*events) > 0 && less((*events)[0].At, whole(matra+1)) {
		e := (*events)[0]
		*events = (*events)[1:]
		inside = append(inside, e)
		shares = lcm(shares, minus(e.At, from).Denom())
		if end := plus(e.At, e.Share); less(end, whole(matra+1)) {
			shares = lcm(shares, minus(end, from).Denom())
		}
	}
	if len(inside) == 0 {
		return pause
	}
	if shares.Cmp(big.NewInt(mostShares)) > 0 {
		texts := make([]string, len(inside))
		for i, e := range inside {
			texts[i] = e.Text
		}
		return strings.Join(texts, ",")
	}
	cells := make([]string, shares.Int64())
	for i := range cells {
		cells[i] = pause
	}
	for _, e := range inside {
		at, _ := floor(times(minus(e.At, from), new(big.Rat).SetInt(shares)))
		cells[at] = e.Text
	}
	return strings.Join(cells, between)
}

func lcm(a, b *big.Int) *big.Int {
	gcd := new(big.Int).GCD(nil, nil, a, b)
	return new(big.Int).Mul(a, new(big.Int).Quo(b, gcd))
}

// LayOutTihai puts a tihai that has no bols on the cycles of a tala, beginning
// start matras after a sam. The matras of each phrase are counted aloud, its
// last stroke is the last number, and where the phrase is over before sam, sam
// is a stroke of its own.
func LayOutTihai(t Tala, tihai Tihai, start *big.Rat, signs Signs) []Slot {
	begins := new(big.Rat)
	var events []Event
	lastAt := minus(tihai.Phrase, tihai.Last)
	strike := func(at *big.Rat, text string) {
		events = append(events, Event{At: plus(start, at), Share: new(big.Rat), Text: text})
	}
	for range 3 {
		n := 0
		for ; less(whole(n), lastAt); n++ {
			strike(plus(begins, whole(n)), strconv.Itoa(n+1))
		}
		if tihai.Last.Sign() > 0 {
			strike(plus(begins, lastAt), strconv.Itoa(n+1))
		}
		begins = plus(begins, plus(tihai.Phrase, tihai.Gap))
	}
	if tihai.Last.Sign() == 0 {
		strike(tihai.ToSam(), "sam")
	}
	end := events[len(events)-1].At
	matras, _ := floor(end)
	slots := t.slots(matras+1, signs)
	first, _ := floor(start)
	for i := first; i < len(slots); i++ {
		slots[i].Text = fill(i, &events, " ")
	}
	return slots
}
