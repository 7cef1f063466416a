package pdf

import (
	"slices"
	"strings"
	"sync"

	"codeberg.org/go-pdf/fpdf"

	"clampwright/export/drawing"
)

// baseSigns is what nearly every sheet needs: ASCII, Latin-1 and the signs of
// the trade. The faces are cut down to these once per process; a document that
// uses others embeds from the whole face.
var baseSigns = func() string {
	var b strings.Builder
	for r := ' '; r < 127; r++ {
		b.WriteRune(r)
	}
	for r := rune(0xa0); r <= 0xff; r++ {
		b.WriteRune(r)
	}
	b.WriteString("–—′″⁄⅛⅜⅝⅞←↑→↓≈≤≥µ")
	return b.String()
}()

var allFaces = [...]drawing.Face{drawing.Regular, drawing.Bold, drawing.Mono}

// cutFaces are the faces cut down to baseSigns.
var cutFaces = sync.OnceValue(func() (cut [len(allFaces)][]byte) {
	for i, f := range allFaces {
		cut[i] = fpdf.UTF8CutFont(slices.Clone(f.TTF()), baseSigns)
	}
	return cut
})

func family(f drawing.Face) string {
	switch f {
	case drawing.Bold:
		return "GoBold"
	case drawing.Mono:
		return "GoMono"
	}
	return "GoRegular"
}

// addFonts embeds the faces that the sheets use. The library appends to slices
// of the bytes it is given, so each document gets its own copy.
func addFonts(doc *fpdf.Fpdf, sheets []drawing.Sheet) {
	var used, whole [len(allFaces)]bool
	for i := range sheets {
		mark(sheets[i].Items, &used, &whole)
	}
	for i, f := range allFaces {
		switch {
		case whole[i]:
			doc.AddUTF8FontFromBytes(family(f), "", slices.Clone(f.TTF()))
		case used[i]:
			doc.AddUTF8FontFromBytes(family(f), "", slices.Clone(cutFaces()[i]))
		}
	}
}

func mark(items []drawing.Item, used, whole *[len(allFaces)]bool) {
	for _, it := range items {
		switch it := it.(type) {
		case drawing.Clip:
			mark(it.Items, used, whole)
		case drawing.Text:
			if int(it.Face) >= len(allFaces) {
				continue
			}
			used[it.Face] = true
			for _, r := range drawing.Clean(it.Face, it.S) {
				whole[it.Face] = whole[it.Face] || !isBase(r)
			}
		}
	}
}

func isBase(r rune) bool {
	if r < 127 || (r >= 0xa0 && r <= 0xff) {
		return true
	}
	return strings.ContainsRune("–—′″⁄⅛⅜⅝⅞←↑→↓≈≤≥µ", r)
}
