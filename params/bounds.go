package params

import (
	"fmt"

	"github.com/goccy/go-yaml/token"

	"clampwright/params/diag"
)

// A generous parameter file is a few kilobytes, its deepest block four levels down,
// its longest block some forty keys. The YAML parser's time and memory grow with the
// square of nesting, keys and words, its tokenizer's only with the length: so these
// bounds are counted on the tokens, before anything is parsed.
const (
	maxBytes     = 256 << 10 // of the file
	maxTokens    = 40000     // words and marks; the longest lists have half as many
	maxDepth     = 12        // levels of braces, brackets and indentation
	maxKeys      = 200       // in one block
	maxDocuments = 8         // of which one may hold something
)

// readable says whether a text is short enough and is text at all.
func (d *decoder) readable(text []byte) bool {
	if len(text) > maxBytes {
		d.beyond(diag.Range{File: d.file, Line: 1, Col: 1}, "the file is too large", len(text), maxBytes, "bytes")
		return false
	}
	wrong := diag.NotUTF8(d.file, text)
	d.diags = append(d.diags, wrong...)
	return len(wrong) == 0
}

// beyond reports what is more than a bound.
func (d *decoder) beyond(at diag.Range, summary string, n, most int, what string) {
	d.errorf(at, summary, fmt.Sprintf("%d %s", n, what), fmt.Sprintf("%d or fewer", most), "")
}

// openBlock is a block by the column that its keys or items stand at.
type openBlock struct{ col, keys int }

// bounded says whether the tokens are few, flat and spread enough to be parsed.
func (d *decoder) bounded(tokens token.Tokens) bool {
	if len(tokens) > maxTokens {
		d.beyond(d.at(tokens[maxTokens]), "the file is too long", len(tokens), maxTokens, "words and marks")
		return false
	}
	docs, flow, blocks := 0, 0, []openBlock(nil)
	for i, t := range tokens {
		key := t
		switch t.Type {
		case token.MappingStartType, token.SequenceStartType:
			flow++
		case token.MappingEndType, token.SequenceEndType:
			flow = max(0, flow-1)
		case token.DocumentHeaderType:
			if docs++; docs > maxDocuments {
				d.beyond(d.at(t), "too many documents in the file", docs, maxDocuments, "documents")
				return false
			}
			flow, blocks = 0, nil
		case token.MappingValueType:
			if flow == 0 && i > 0 {
				key = tokens[i-1]
				blocks = enter(blocks, key.Position.Column, 1)
			}
		case token.SequenceEntryType, token.MappingKeyType:
			blocks = enter(blocks, t.Position.Column, 0)
		}
		if n := len(blocks); flow+n > maxDepth {
			d.beyond(d.at(t), "nested too deep", flow+n, maxDepth, "levels")
			return false
		} else if n > 0 && blocks[n-1].keys > maxKeys {
			d.beyond(d.at(key), "too many keys in one block", blocks[n-1].keys, maxKeys, "keys")
			return false
		}
	}
	return true
}

// enter opens a block at a column, or goes on with the one that is open there.
func enter(blocks []openBlock, col, keys int) []openBlock {
	n := len(blocks)
	for n > 0 && blocks[n-1].col > col {
		n--
	}
	if blocks = blocks[:n]; n == 0 || blocks[n-1].col < col {
		return append(blocks, openBlock{col, keys})
	}
	blocks[n-1].keys += keys
	return blocks
}
