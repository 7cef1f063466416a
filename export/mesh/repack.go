package mesh

import (
	"archive/zip"
	"bytes"
	"cmp"
	"encoding/xml"
	"io"
	"slices"
	"time"
)

// zipTime is the time of every entry: the first that a zip file can name.
var zipTime = time.Date(1980, time.January, 1, 0, 0, 0, 0, time.UTC)

// repack copies an OPC package entry by entry, all with the same time and the
// content types in order, and gives it a comment: the package writer stamps the time of day and lists
// the types as its hash table happens to.
func repack(w io.Writer, comment string, packed []byte) error {
	r, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil {
		return err
	}
	out := zip.NewWriter(w)
	for _, f := range r.File {
		if err := copyEntry(out, f); err != nil {
			return err
		}
	}
	if err := out.SetComment(comment); err != nil {
		return err
	}
	return out.Close()
}

// typesName is the entry that lists the content types (ISO/IEC 29500-2).
const typesName = "[Content_Types].xml"

func copyEntry(out *zip.Writer, f *zip.File) error {
	in, err := f.Open()
	if err != nil {
		return err
	}
	defer in.Close()
	dst, err := out.CreateHeader(&zip.FileHeader{Name: f.Name, Method: zip.Deflate, Modified: zipTime})
	if err != nil {
		return err
	}
	if f.Name == typesName {
		return sortTypes(dst, in)
	}
	_, err = io.Copy(dst, in)
	return err
}

// contentTypes is the document of typesName.
type contentTypes struct {
	XMLName   xml.Name      `xml:"http://schemas.openxmlformats.org/package/2006/content-types Types"`
	Defaults  []contentType `xml:"Default"`
	Overrides []contentType `xml:"Override"`
}

type contentType struct {
	Extension string `xml:"Extension,attr,omitempty"`
	PartName  string `xml:"PartName,attr,omitempty"`
	Type      string `xml:"ContentType,attr"`
}

func sortTypes(w io.Writer, r io.Reader) error {
	var types contentTypes
	if err := xml.NewDecoder(r).Decode(&types); err != nil {
		return err
	}
	byName := func(a, b contentType) int {
		return cmp.Or(cmp.Compare(a.Extension, b.Extension), cmp.Compare(a.PartName, b.PartName))
	}
	slices.SortFunc(types.Defaults, byName)
	slices.SortFunc(types.Overrides, byName)
	if _, err := io.WriteString(w, xml.Header); err != nil {
		return err
	}
	return xml.NewEncoder(w).Encode(types)
}
