package intake

import (
	"archive/zip"
	"bytes"
	"fmt"
	"testing"
)

// pieces are the files of a workbook written by hand, by name.
type pieces map[string]string

// bare is the least workbook there is: one sheet with the given rows, texts and styles.
func bare(sheet, texts, styles, properties string) pieces {
	const head = `<?xml version="1.0" encoding="UTF-8"?>`
	const main = `xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"`
	return pieces{
		"[Content_Types].xml": head + `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="xml" ContentType="application/xml"/></Types>`,
		"_rels/.rels":         head + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml":     head + `<workbook ` + main + ` xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><workbookPr ` + properties + `/><sheets><sheet name="Sales" sheetId="1" r:id="rId1"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": head + `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/>` +
			`<Relationship Id="rId2" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/styles" Target="styles.xml"/><Relationship Id="rId3" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/sharedStrings" Target="sharedStrings.xml"/></Relationships>`,
		"xl/worksheets/sheet1.xml": head + `<worksheet ` + main + `><sheetData>` + sheet + `</sheetData></worksheet>`,
		"xl/sharedStrings.xml":     head + `<sst ` + main + `>` + texts + `</sst>`,
		"xl/styles.xml":            head + `<styleSheet ` + main + `>` + styles + `</styleSheet>`,
	}
}

// pack makes the zip of a workbook.
func (p pieces) pack(t testing.TB) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, name := range sortedKeys(p) {
		w, err := z.Create(name)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := w.Write([]byte(p[name])); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// plainRow writes a row of a sheet with its texts in place.
func plainRow(number int, cells ...string) string {
	s := fmt.Sprintf(`<row r="%d">`, number)
	for _, c := range cells {
		s += `<c t="inlineStr"><is><t>` + c + `</t></is></c>`
	}
	return s + `</row>`
}

var plainHeader = plainRow(1, "sold", "price", "power", "year", "stroke")
