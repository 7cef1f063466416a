package tell

import (
	"fmt"
	"math"
	"strings"
	"time"

	"clampwright/assembly/clamp"
	"clampwright/assembly/estimate"
	"clampwright/assembly/job"
	"clampwright/assembly/work"
	"clampwright/export/page"
	"clampwright/params"
	"clampwright/params/number"
	"clampwright/params/words"
)

// newtons tells a force to ten newtons, as finely as any reading here knows it.
func newtons(n float64) string { return number.Trim(math.Round(n/10)*10, 0) + " N" }

func bandWords(b estimate.Band) string {
	return newtons(b.Value) + " (" + number.Trim(math.Round(b.Low/10)*10, 0) + " to " + newtons(b.High) + ")"
}

// Readings say what the readings at the clamp tell; none where nothing was read.
func Readings(j *job.Job) []string {
	if j.Estimate == nil || j.Estimate.Bare() {
		return nil
	}
	return Answer(j, j.Estimate.Answer())
}

// Answer says what the readings of a job tell, a sentence or a few each; the forces stand
// for 95 in 100.
func Answer(j *job.Job, a estimate.Answer) (out []string) {
	say := func(format string, args ...any) { out = append(out, fmt.Sprintf(format, args...)) }
	f := j.Fixture
	then, now := "now", fmt.Sprintf("at %s %% charge", number.Trim(100*a.At.Charge, 0))
	if len(f.Readings) == 0 || j.Estimate.Bare() {
		say("Nothing was read at the clamp: what follows is what fixtures like this come to, set as the card says.")
		then = "as set"
	} else if a.Stage < estimate.Set {
		now = map[estimate.Stage]string{estimate.Before: "once set as the card says", estimate.Snug: "snug", estimate.Part: "on the way to be set"}[a.Stage]
	} else if a.At.Years > 0.05 {
		now += ", " + months(a.At.Years) + " after setting"
	}
	say("Force %s, %s: %s in all, 95 in 100 lie between the two in brackets.", then, now, bandWords(a.Force))
	var rods []string
	for i, name := range f.TieNames() {
		rods = append(rods, name+" "+bandWords(a.Rods[i]))
	}
	say("Rods: %s.", strings.Join(rods, "; "))
	for _, n := range a.Notes {
		say("%s", n.Text)
	}
	out = append(out, words.NonEmpty(cellWords(j))...)
	switch percent := number.Trim(math.Floor(100*a.Inside), 0); {
	case a.WillDo && len(a.Turns) > 0 && a.Stage != estimate.Visit:
		say("Do not charge it before the nuts are turned as told below, and read again.")
	case a.WillDo && a.Unread && j.Fixture.Spring != nil:
		say("Do not charge it further: nothing that was read since the nuts were set tells what every rod pulls. Read the height of the springs on every rod, at storage charge.")
	case a.WillDo && a.Unread:
		say("Do not charge it further: nothing that was read since the nuts were set tells the force. Read the bow of both plates, or the distance of the plates snug and as set.")
	case a.WillDo && a.Unset && a.Stage >= estimate.Set:
		say("Do not charge it further: as the nuts were set, the force is outside the setting band, or may be. Set them first.")
	case a.WillDo && a.Uneven:
		say("Do not charge it further: a rod pulls less or more than its part of the service band. Set the nuts alike first, at storage charge, and read every spring again.")
	case a.WillDo && !a.Charge && a.Stage >= estimate.Set:
		say("Do not charge it further before what is named above is read again.")
	case a.WillDo && !a.Charge:
		say("Do not charge it before it is set. Set as the card says, to %s, it may be charged to full: %s then, within the service band in %s of 100.", bandWords(a.AsSet), bandWords(a.Full), percent)
	case a.Charge:
		say("It may be charged to full: %s then, within the service band in %s of 100.", bandWords(a.Full), percent)
	default:
		say("Do not charge it to full: %s then, within the service band in %s of 100 only; 95 are wanted.", bandWords(a.Full), percent)
	}
	if s := j.Assurance; s != nil && s.Draws > 0 && len(f.Readings) > 0 && !j.Estimate.Bare() {
		of := "Of clamps that read like this"
		if a.NoTurn == "" {
			of += ", set again as told below"
		}
		say("%s, %s in 100 are set within the setting band and stay within that of service from now on.", of, number.Trim(100*s.Share, 0))
	}
	out = append(out, words.NonEmpty(serviceWords(j))...)
	if a.Next != nil {
		say("Read next: %s. It %s, in two of three.", offerWords(f, a.Next), narrows(a.Next))
	}
	out = append(out, turnWords(j, a)...)
	if a.Stage >= estimate.Set || j.Estimate.Bare() {
		out = append(out, lookWords(j, a))
	}
	return out
}

var whatWords = map[estimate.What]string{estimate.Length: "the distance of the plates beside every rod", estimate.Height: "the height of the springs on every rod", estimate.Turned: "the turns of the nuts",
	estimate.Torque: "the torque at every nut and the running torque of one", estimate.Bow: "the bow of both plates in the middle, against the middles of their left and right edges",
	estimate.Weighed: "one spring of every rod on a scale", estimate.Bare: "the loose row, bare and under 20 kg"}

// whenWords is when a reading is taken; empty before the clamp is tightened.
func whenWords(r estimate.Reading) string {
	switch {
	case r.Stage == estimate.Snug:
		return "snug"
	case r.Stage == estimate.Set:
		return "as set"
	case r.Stage == estimate.Visit && r.Charge >= 1:
		return "full"
	case r.Stage == estimate.Visit:
		return "at storage charge"
	}
	return ""
}

// offerWords names what is to be read and when.
func offerWords(f *params.Fixture, o *estimate.Offer) string {
	var when []string
	for _, r := range o.Readings {
		w := whenWords(r)
		if w != "" && (len(when) == 0 || when[len(when)-1] != w) {
			when = append(when, w)
		}
	}
	first := o.Readings[0]
	out := whatWords[first.What]
	if first.What == estimate.Weighed {
		out += ", pressed to " + f.Style.Small(first.HighMM)
	}
	return strings.TrimSpace(strings.TrimSuffix(out+", "+words.Join(when), ", "))
}

// placeWords is one reading of an offer: when and where.
func placeWords(f *params.Fixture, r estimate.Reading) string {
	at := map[estimate.What]string{estimate.Bare: "loose row", estimate.Running: "running torque of one nut"}[r.What]
	switch {
	case r.LoadN > 1:
		at += ", under weights"
	case r.What == estimate.Weighed:
		at = "one spring of " + f.TieNames()[r.At]
	case r.What == estimate.Bow:
		at = []string{"front plate", "back plate"}[r.At]
	case r.At >= 0:
		at = f.TieNames()[r.At]
	}
	return words.Upper(strings.TrimPrefix(whenWords(r)+", "+at, ", "))
}

// turnWords says which nuts to turn, or why none.
func turnWords(j *job.Job, a estimate.Answer) (out []string) {
	if a.NoTurn != "" {
		return []string{"Turn no nut: " + string(a.NoTurn) + "."}
	}
	names := j.Fixture.TieNames()
	for _, t := range a.Turns {
		way := "in"
		if t.Turns < 0 {
			way = "out"
		}
		s := fmt.Sprintf("Turn the nut at %s %s by %s", names[t.Tie], way, clamp.TurnWords(math.Abs(t.Turns)))
		if t.HeightMM > 0 {
			s += ", to a spring height of " + j.Fixture.Style.Small(t.HeightMM)
		}
		out = append(out, s+".")
	}
	return append(out, "Turn in quarters, crosswise, then read again: the force is out of what it should be for this charge.")
}

// lookWords says when to look again and what asks for a setting then.
func lookWords(j *job.Job, a estimate.Answer) string {
	e, f := j.Estimate, j.Fixture
	low, high := "below "+newtons(a.LookLow), "above "+newtons(a.LookHigh)
	if f.Spring != nil {
		low += ", springs taller than " + f.Style.Small(e.HeightAt(a.LookLow, 0))
		high += ", springs shorter than " + f.Style.Small(e.HeightAt(a.LookHigh, 0))
	}
	at := a.At.Years + a.LookIn
	return fmt.Sprintf("Look again %s, at %s %% charge. If the force is %s, turn the nuts in by %s. If it is %s, turn them out by %s.",
		lookIn(j, a), number.Trim(100*f.Clamp.SetCharge, 0), low, clamp.TurnWords(e.TurnsTo(a.LookLow, at)), high, clamp.TurnWords(-e.TurnsTo(a.LookHigh, at)))
}

// months are years in words, in years from two on.
func months(years float64) string {
	if years > 2 {
		return number.Trim(years, 1) + " years"
	}
	n := int(math.Round(years * 12))
	return fmt.Sprintf("%d month%s", n, words.Plural(n))
}

// lookIn is when to look again, by the date where the last reading has one.
func lookIn(j *job.Job, a estimate.Answer) string {
	s, last := "in "+months(a.LookIn), 0
	for _, x := range j.Fixture.Readings {
		if x.AtClamp() {
			last = max(last, x.Day)
		}
	}
	if last > 0 {
		s += ", by " + time.Unix(int64(last)*86400, 0).UTC().AddDate(0, int(math.Round(a.LookIn*12)), 0).Format(time.DateOnly)
	}
	return s
}

// Worth is the log of the readings that are worth taking of this fixture, in the order of
// what they narrow, and the page for its life.
func Worth(j *job.Job) (out page.Worth) {
	e, err := j.Estimated()
	if err != nil || e == nil {
		return out
	}
	own := *j
	own.Estimate = e
	a := e.Answer()
	if out.Look = Answer(&own, a); e.Bare() {
		out.Look = []string{"Nothing is read yet. The log says how far each reading narrows the force at full charge, plus or minus, in two cases of three.", lookWords(&own, a)}
		out.Look = append(out.Look, words.NonEmpty(serviceWords(&own))...)
	}
	if len(a.Checks) > 0 {
		o := estimate.LookAgain(e, a)
		w := page.WorthOffer{Name: fmt.Sprintf("At the next visit, %s, at %s %% charge: %s. %s. Set the nuts again where one is outside its limits", lookIn(j, a), number.Trim(100*j.Fixture.Clamp.SetCharge, 0), whatWords[a.Checks[0].What], words.Upper(narrows(&o)))}
		for _, c := range a.Checks {
			w.Places = append(w.Places, fmt.Sprintf("%s, %s to %s", placeWords(j.Fixture, estimate.Reading{What: c.What, At: c.At}), j.Fixture.Style.Small(c.LowMM), j.Fixture.Style.Small(c.HighMM)))
		}
		out.Offers = append(out.Offers, w)
	}
	full := estimate.Moment{Years: a.At.Years, Charge: 1, TempC: e.HotC}
	for _, o := range e.Order(full, e.Offers(a.MayFill())) {
		w := page.WorthOffer{Name: words.Upper(offerWords(j.Fixture, &o)) + ": " + narrows(&o)}
		for _, r := range o.Readings {
			w.Places = append(w.Places, placeWords(j.Fixture, r))
		}
		out.Offers = append(out.Offers, w)
	}
	return out
}

// narrows says what readings are worth.
func narrows(o *estimate.Offer) string {
	return fmt.Sprintf("narrows the force at full charge from ±%s to ±%s", newtons(o.Before), newtons(o.After))
}

// Rests says what other packs told of these cells, and what is taken from it; empty where
// nothing was learned.
func Rests(j *job.Job) string {
	r := &j.Rests
	if len(r.Apart) == 2 {
		who, way := entryWords(r.Apart[1]), "neither is used. Say in cell.batch of which batch these cells are"
		if r.Apart[1].Pack == "" {
			who, way = "this pack's readings", "nothing is taken from what was learned"
		}
		return fmt.Sprintf("What %s and %s tell of their cells differs by %s sigma, most in the %s (%s and %s). They are told apart, not averaged: %s.",
			entryWords(r.Apart[0]), who, number.Trim(r.Sigmas, 0), r.Parameter, figure(r.Middles[0]), strings.TrimSpace(figure(r.Middles[1])+" "+r.Unit), way)
	}
	if len(r.Entries) == 0 {
		return ""
	}
	var packs []string
	for _, e := range r.Entries {
		packs = append(packs, entryWords(e))
	}
	s := fmt.Sprintf("This rests on what %d other pack%s told of these cells: %s.", r.Packs, words.Plural(r.Packs), words.Join(packs))
	if b := j.Fixture.Cell.Batch; b == "" || r.Entries[0].Batch != b {
		s += " These cells may be of another batch, so it counts for less."
	}
	return s
}

func entryWords(l params.Learned) string {
	s := l.Pack
	if l.Batch != "" {
		s += " (batch " + l.Batch + ")"
	}
	return s
}

// cellWords says what this pack's readings told of its cells, where they told anything.
func cellWords(j *job.Job) string {
	entry, ok := job.Entry(j)
	var list []string
	for i, p := range entry.Parameters {
		if r := job.CellRange(j, i); r.Width(p.Low, p.High) < job.Narrowed {
			s := fmt.Sprintf("%s %s (%s to %s)", r.Name, figure(p.Middle), figure(p.Low), figure(p.High))
			list = append(list, strings.TrimSpace(s+" "+r.Unit))
		}
	}
	if !ok || len(list) == 0 {
		return ""
	}
	return "The readings of this pack tell of its cells: " + strings.Join(list, "; ") + ". To keep that for the next pack of them: clampwright reading FILE --learned learned.yaml."
}

// figure is a number to two figures, from a hundred on whole.
func figure(v float64) string { return number.Figures(v, 2) }

// serviceWords are what service over the years asks and keeps, beside what springs cost.
func serviceWords(j *job.Job) string {
	s := j.Assurance
	if s == nil || s.Draws == 0 {
		return ""
	}
	if s.Again == 0 && s.Served == s.Left { // nothing is read by which it could be set again
		if j.Fixture.Spring != nil {
			return ""
		}
		return "Service alone does not keep locked nuts, as the force is not seen. Read the bow of both plates as set: from then on this says what service keeps, beside what springs cost."
	}
	out := fmt.Sprintf("Service: read once a year, and set again outside the limits. That is %s times in %s on average, about %s hours of work in all. With service %s of 100 such clamps stay within their bands, without it %s.",
		number.Trim(s.Again, 1), number.Years(s.Years, 0), number.Trim(work.ServiceHours(s.Years, s.Again), 1), number.Trim(100*s.Served, 0), number.Trim(100*s.Left, 0))
	if j.Assembly == nil {
		return out // at the bench: no prices
	}
	switch price, pieces, priced := job.SpringsPrice(j); {
	case priced && j.Fixture.Spring == nil && pieces > 0:
		out += fmt.Sprintf(" Springs instead, %d pieces, cost %s.", pieces, money(j, price))
	case priced && j.Fixture.Spring == nil:
		out += " Springs instead cost " + money(j, price) + " with all that changes with them."
	case j.Fixture.Spring == nil && pieces > 0:
		out += fmt.Sprintf(" Springs instead are %d pieces, which have no price in the file.", pieces)
	case j.Fixture.Spring == nil && len(j.Mended.Patches) > 0:
		out += " 'clampwright mend' tells what springs cost instead."
	case j.Fixture.Spring == nil:
		out += " No springs were found that keep the force as this clamp was read."
	case priced:
		out += fmt.Sprintf(" Its %d springs cost %s.", pieces, money(j, price))
	default:
		out += fmt.Sprintf(" Its %d springs have no price in the file.", pieces)
	}
	return out
}
