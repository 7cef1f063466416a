package page

import (
	"fmt"
	"html/template"
	"reflect"
)

// Style and Script are those of every document, for the page that is served.
func Style() string { return styleText }

// Script is the script of every document.
func Script() string { return scriptText }

// Word is the verdict in a word or two.
func Word(v Verdict) string { return firstOf(verdictWords[v], "Not judged") }

// Piece is one section of a document.
type Piece struct {
	ID, Title string
	HTML      template.HTML
}

// Pieces are the sections of a document that the sheet fills, as they stand there.
func Pieces(s *Documents, d Doc) ([]Piece, error) {
	if err := drawable(reflect.ValueOf(*s)); err != nil {
		return nil, fmt.Errorf("page: %q: %w", s.Title, err)
	}
	sections, err := buildSections(s, d)
	var out []Piece
	for _, p := range sections {
		out = append(out, Piece{p.ID, p.Title, p.Body})
	}
	return out, err
}

// Facts are rows of figures with their names.
func Facts(facts []Fact) (template.HTML, error) { return fill("facts", facts) }

// Picture is the frame of the turnable picture, without what is to be seen in it.
func Picture(alt string) (template.HTML, error) {
	return fill("picture", struct {
		Still        template.HTML
		Alt, Caption string
		Groups       []string
	}{Alt: alt, Caption: alt})
}

// pictureRatio is the width of a turnable picture over its height where no still one
// is drawn.
const pictureRatio = 1.6

// Turnable is a scene as the script takes it.
func Turnable(sc Scene) ([]byte, error) {
	if err := drawable(reflect.ValueOf(sc)); err != nil {
		return nil, err
	}
	return newStage(sc).pack(pictureRatio)
}

// Still is the scene as drawn from a corner, empty where nothing is in it.
func Still(sc Scene) (template.HTML, error) {
	st := newStage(sc)
	if len(st.actors) == 0 {
		return "", nil
	}
	svg, _, err := stillSVG(st, sc.Description)
	return template.HTML(svg), err
}

// MapsBeside draws the map of one state of several clamps on one scale of colours, nothing
// where a clamp has no such state.
func MapsBeside(state string, all ...Clamp) ([]template.HTML, error) {
	var every Clamp
	for _, c := range all {
		every.States, every.Window = append(every.States, c.States...), c.Window
	}
	sc := pressureScale(every)
	out := make([]template.HTML, len(all))
	for i, c := range all {
		for _, s := range c.States {
			if s.Name != state || len(s.Fields) == 0 {
				continue
			}
			svg, err := mapSVG(c, s, sc)
			if err != nil {
				return nil, err
			}
			out[i] = template.HTML(svg)
		}
	}
	return out, nil
}
