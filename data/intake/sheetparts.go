package intake

import (
	"bytes"
	"encoding/xml"
	"path"
	"strings"

	"github.com/xuri/excelize/v2"
)

// sheetPaths finds the XML of each sheet by the workbook's relations.
func sheetPaths(f *excelize.File) map[string][]byte {
	parts := map[string][]byte{}
	var relations struct {
		Relationship []struct {
			ID     string `xml:"Id,attr"`
			Target string `xml:"Target,attr"`
		}
	}
	var folder string
	f.Pkg.Range(func(name, content any) bool {
		n, isName := name.(string)
		c, isContent := content.([]byte)
		if isName && isContent {
			parts[n] = c
			if at, base := path.Split(n); strings.HasSuffix(at, "_rels/") && strings.HasPrefix(base, "workbook") {
				folder = strings.TrimSuffix(at, "_rels/")
				d := xml.NewDecoder(bytes.NewReader(c))
				d.CharsetReader = f.CharsetReader
				_ = d.Decode(&relations) // without relations no sheet is found, and that is said
			}
		}
		return true
	})
	targets := map[string]string{}
	for _, r := range relations.Relationship {
		targets[r.ID] = r.Target
	}
	out := map[string][]byte{}
	if f.WorkBook == nil {
		return out
	}
	for _, s := range f.WorkBook.Sheets.Sheet {
		target := strings.ReplaceAll(targets[s.ID], "\\", "/")
		if !strings.HasPrefix(target, "/") {
			target = folder + target
		}
		if c, ok := parts[strings.TrimPrefix(path.Clean("/"+target), "/")]; ok {
			out[s.Name] = c
		}
	}
	return out
}

func counts1904(f *excelize.File) bool {
	return f.WorkBook != nil && f.WorkBook.WorkbookPr != nil && f.WorkBook.WorkbookPr.Date1904
}
