package intake

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math/rand"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"pgregory.net/rapid"

	"skegworth/costing"
	"skegworth/valuation"
	"skegworth/valuation/day"
	"skegworth/valuation/money"
)

// drawSale makes up a sale with any of its facts known.
func drawSale(t *rapid.T) costing.Record {
	words := rapid.StringMatching(`[A-Za-zé][A-Za-zéü 0-9,;"'/.\t-]{0,12}[a-z]`)
	set := func(m *valuation.Motor, field, text string) {
		if err := m.Set(field, text); err != nil {
			t.Fatalf("%s %q: %v", field, text, err)
		}
	}
	sale := &costing.Sale{
		Sold:  usual.Today - day.Day(rapid.IntRange(0, 9000).Draw(t, "ago")),
		Price: money.Amount(rapid.IntRange(1, 2_000_000).Draw(t, "price")),
	}
	r := costing.Record{Stage: costing.History, Sale: sale}
	m := &r.Motor
	set(m, "power", strconv.FormatFloat(float64(rapid.IntRange(20, 3000).Draw(t, "power"))/10, 'f', -1, 64))
	set(m, "year", strconv.Itoa(sale.Sold.Year()-rapid.IntRange(0, 50).Draw(t, "age")))
	for _, f := range valuation.Fields() {
		switch {
		case f.Name == "stroke":
			set(m, f.Name, rapid.SampledFrom(f.Choices).Draw(t, f.Name))
		case len(f.Choices) > 0 && rapid.Bool().Draw(t, f.Name+" known"):
			set(m, f.Name, rapid.SampledFrom(f.Choices).Draw(t, f.Name))
		}
	}
	if rapid.Bool().Draw(t, "more") {
		m.Make = rapid.SampledFrom([]string{"Halvard", "Corvane", "Tornvik"}).Draw(t, "make")
		set(m, "hours", strconv.FormatFloat(float64(rapid.IntRange(0, 9999).Draw(t, "hours"))/2, 'f', -1, 64))
		set(m, "looks", strconv.Itoa(rapid.IntRange(1, 5).Draw(t, "looks")))
		set(m, "shaft", strconv.Itoa(rapid.SampledFrom(valuation.Shafts).Draw(t, "shaft")))
		set(m, "compression", "120 118.5")
		r.ListedOn = sale.Sold - day.Day(rapid.IntRange(0, 400).Draw(t, "days"))
		r.Ask = money.Amount(rapid.IntRange(1, 2_000_000).Draw(t, "ask"))
		sale.Channel = strings.TrimSpace(words.Draw(t, "channel"))
		sale.Note = strings.TrimSpace(words.Draw(t, "note")) + rapid.SampledFrom([]string{"", "\nsecond line", ` "quoted"`}).Draw(t, "end")
	}
	return r
}

// dialect is one way to write a file.
type dialect struct {
	separator       rune
	date            string
	comma, grouped  bool
	sign            string
	crlf, titles    bool
	encoding, order int
}

func (d dialect) amount(a money.Amount) string {
	if a == 0 {
		return ""
	}
	whole, cents := strconv.FormatInt(int64(a/100), 10), int64(a%100)
	point, group := ".", ","
	if d.comma {
		point, group = ",", "."
	}
	if d.grouped && len(whole) > 3 {
		whole = whole[:len(whole)-3] + group + whole[len(whole)-3:]
	}
	if len(whole) > 7 { // millions
		return d.sign + strings.ReplaceAll(whole, group, "") + point + fmt.Sprintf("%02d", cents)
	}
	if cents == 0 && d.order%2 == 0 {
		return d.sign + whole
	}
	return d.sign + whole + point + fmt.Sprintf("%02d", cents)
}

var writtenColumns = append([]string{sold, price, listed, asked, channel, note}, factNames()...)

func factNames() []string {
	var names []string
	for _, f := range valuation.Fields() {
		names = append(names, f.Name)
	}
	return names
}

// write gives the file's cells: headings, then rows.
func (d dialect) write(sales []costing.Record) [][]string {
	columns := slices.Clone(writtenColumns)
	rand.New(rand.NewSource(int64(d.order))).Shuffle(len(columns), func(i, j int) { columns[i], columns[j] = columns[j], columns[i] })
	heads := make([]string, len(columns))
	for i, c := range columns {
		heads[i] = []string{c, strings.ToUpper(c), strings.ReplaceAll(c, "-", "_")}[(i+d.order)%3]
	}
	table := [][]string{heads}
	for _, r := range sales {
		row := make([]string, len(columns))
		for i, c := range columns {
			switch c {
			case sold:
				row[i] = r.Sale.Sold.Time().Format(d.date)
			case price:
				row[i] = d.amount(r.Sale.Price)
			case listed:
				if r.ListedOn != 0 {
					row[i] = r.ListedOn.Time().Format(d.date)
				}
			case asked:
				row[i] = d.amount(r.Ask)
			case channel:
				row[i] = r.Sale.Channel
			case note:
				row[i] = r.Sale.Note
			default:
				row[i] = r.Motor.Text(c)
			}
		}
		table = append(table, row)
	}
	return table
}

// bytes writes the file.
func (d dialect) bytes(t *rapid.T, sales []costing.Record) []byte {
	var b bytes.Buffer
	if d.titles {
		b.WriteString("what I sold, so far;\n\n")
	}
	w := csv.NewWriter(&b)
	w.Comma, w.UseCRLF = d.separator, d.crlf
	if err := w.WriteAll(d.write(sales)); err != nil {
		t.Fatal(err)
	}
	out := b.Bytes()
	var err error
	switch d.encoding {
	case 1:
		out = append([]byte("\ufeff"), out...)
	case 2:
		out, err = unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder().Bytes(out)
	case 3:
		out, err = charmap.Windows1252.NewEncoder().Bytes(out)
	}
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// Sales written in any dialect read back as the same sales, none refused; and written into a workbook
// with real dates and numbers they are again the same, down to the fingerprint.
func TestRoundTrip(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sales := rapid.SliceOfN(rapid.Custom(drawSale), 1, 12).Draw(t, "sales")
		monthFirst := rapid.Bool().Draw(t, "month first")
		layouts := []string{"2006-01-02", "02/01/2006", "2.1.06", "2 Jan 2006"}
		o := usual
		o.Language = "en-GB"
		if monthFirst {
			layouts = []string{"2006/01/02", "01/02/2006", "1-2-06", "Jan 2, 2006"}
			o.Language = "en-US"
		}
		d := dialect{
			separator: rapid.SampledFrom([]rune{',', ';', '\t'}).Draw(t, "separator"), date: rapid.SampledFrom(layouts).Draw(t, "date"),
			comma: rapid.Bool().Draw(t, "comma"), grouped: rapid.Bool().Draw(t, "grouped"), sign: rapid.SampledFrom([]string{"", "$", "USD "}).Draw(t, "sign"),
			crlf: rapid.Bool().Draw(t, "crlf"), titles: rapid.Bool().Draw(t, "titles"),
			encoding: rapid.IntRange(0, 3).Draw(t, "encoding"), order: rapid.IntRange(0, 99).Draw(t, "order"),
		}
		file := d.bytes(t, sales)
		b, err := Read(bytes.NewReader(file), "a.csv", o)
		if err != nil {
			t.Fatalf("%v\n%s", err, file)
		}
		same(t, b, sales, string(file))
		again, err := Read(bytes.NewReader(worksheet(t, sales)), "a.xlsx", o)
		if err != nil {
			t.Fatal(err)
		}
		same(t, again, sales, "workbook")
		if diff := cmp.Diff(prints(b), prints(again)); diff != "" {
			t.Fatalf("the fingerprints differ: %s", diff)
		}
	})
}

func same(t *rapid.T, b Batch, sales []costing.Record, file string) {
	t.Helper()
	if len(b.Refused) > 0 || len(b.Rows) != len(sales) {
		t.Fatalf("refused %v\n%s", b.Refused, file)
	}
	for i, r := range b.Rows {
		got := r.Record
		sale := *got.Sale
		sale.Source = ""
		got.Sale = &sale
		if diff := cmp.Diff(sales[i], got); diff != "" {
			t.Fatalf("%s\n%s", diff, file)
		}
	}
}

// worksheet writes the sales into a workbook as a spreadsheet would hold them.
func worksheet(t *rapid.T, sales []costing.Record) []byte {
	f := excelize.NewFile()
	d := dialect{date: "2006-01-02"}
	for i, row := range d.write(sales) {
		values := make([]any, len(row))
		for j, s := range row {
			values[j] = s
			if v, err := strconv.ParseFloat(s, 64); err == nil && i > 0 {
				values[j] = v
			}
			if v, err := time.Parse(time.DateOnly, s); err == nil {
				values[j] = v
			}
		}
		if err := f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &values); err != nil {
			t.Fatal(err)
		}
	}
	out, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	return out.Bytes()
}
