package look

import (
	"encoding/json"
	"flag"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"golang.org/x/text/language"

	"skegworth/costing"
	"skegworth/valuation/say"
)

// go test ./app/look -run TestEveryKeyHasItsWords -update writes translation/en.json anew from the
// source text: new keys come in, keys nobody says go out.
var update = flag.Bool("update", false, "write translation/en.json from the source text")

// spoken are the calls that put words before the user: the key is the first argument and the English
// the second, both written out, so that this test can read them.
var spoken = map[string]bool{"lang.X": true, "lang.LocalizeKey": true, "say.New": true}

// keyless are calls that would take the English as its own key; they are not used, so that a change of
// wording never loses a translation.
var keyless = map[string]bool{"lang.L": true, "lang.N": true, "lang.Localize": true, "lang.LocalizePlural": true}

func TestEveryKeyHasItsWords(t *testing.T) {
	found := gather(t)
	if *update {
		data, err := json.MarshalIndent(found, "", "  ")
		if err != nil {
			t.Fatal(err)
		}
		out := strings.NewReplacer(`\u003c`, "<", `\u003e`, ">", `\u0026`, "&").Replace(string(data))
		if err := os.WriteFile("translation/en.json", []byte(out+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	have, err := WordsOf(language.English)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(found, have); diff != "" {
		t.Errorf("translation/en.json differs from what the source says; run this test with -update\n-source +file\n%s", diff)
	}
}

// byValue are sentences whose key is made from a word of the shop file; they are asked for instead of
// read.
func byValue() []say.Sentence {
	var all []say.Sentence
	for _, k := range costing.Kinds {
		all = append(all, k.Name())
	}
	for _, g := range costing.Groups {
		all = append(all, g.Name())
	}
	for _, s := range costing.Stages {
		all = append(all, s.Name())
	}
	for _, m := range costing.MoveKinds {
		all = append(all, m.Name())
	}
	return all
}

// keyForm is what a key looks like where a sentence is made by way of a helper or a table, in the rooms
// that know no window; on the screens every key stands in the call itself.
var keyForm = regexp.MustCompile(`^[a-z][a-z0-9-]*(\.[a-z0-9-]+)+$`)

// asked are the files whose sentences byValue covers, and the one that passes every sentence on.
var asked = map[string]bool{"../../costing/label.go": true, "../look/say.go": true}

// gather reads every sentence spoken in the source text of the program, tests apart.
func gather(t *testing.T) map[string]string {
	t.Helper()
	found := map[string]string{}
	where := map[string]string{}
	for _, s := range byValue() {
		found[s.Key], where[s.Key] = s.Text, "asked by value"
	}
	for _, room := range []string{"..", "../../valuation", "../../costing", "../../data"} {
		err := filepath.WalkDir(room, func(path string, d fs.DirEntry, err error) error {
			if err != nil {
				return err
			}
			if d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
				return nil
			}
			set := token.NewFileSet()
			file, err := parser.ParseFile(set, path, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			strict := strings.HasPrefix(filepath.ToSlash(path), "../") && !strings.HasPrefix(filepath.ToSlash(path), "../../")
			speaks := slices.ContainsFunc(file.Imports, func(i *ast.ImportSpec) bool { return i.Path.Value == `"skegworth/valuation/say"` })
			ast.Inspect(file, func(n ast.Node) bool {
				if n == nil {
					return true
				}
				at := set.Position(n.Pos()).String()
				var key, english string
				switch n := n.(type) {
				case *ast.CallExpr:
					name := called(n)
					if keyless[name] {
						t.Errorf("%s: %s has no key; use lang.X(key, english)", at, name)
					}
					var err error
					key, english, err = pair(n.Args)
					switch {
					case !spoken[name]:
						if !speaks || strict || !keyForm.MatchString(key) {
							return true
						}
					case err != nil && strict && !asked[filepath.ToSlash(path)]:
						t.Errorf("%s: %s: %v", at, name, err)
					}
					if err != nil {
						return true
					}
				case *ast.CompositeLit: // a table of sentences
					var err error
					if key, english, err = pair(n.Elts); err != nil || !speaks || !keyForm.MatchString(key) {
						return true
					}
				default:
					return true
				}
				if before, known := found[key]; known && before != english {
					t.Errorf("%s: key %q says %q here and %q at %s", at, key, english, before, where[key])
				}
				found[key], where[key] = english, at
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return found
}

func called(call *ast.CallExpr) string {
	sel, isSelector := call.Fun.(*ast.SelectorExpr)
	if !isSelector {
		return ""
	}
	pkg, isName := sel.X.(*ast.Ident)
	if !isName {
		return ""
	}
	return pkg.Name + "." + sel.Sel.Name
}

// pair is a key and its English, the first two of a call's arguments or of a row in a table.
func pair(of []ast.Expr) (key, english string, err error) {
	if len(of) < 2 {
		return "", "", fmt.Errorf("wants a key and its English")
	}
	if key, err = literal(of[0]); err != nil {
		return "", "", fmt.Errorf("the key %w", err)
	}
	if english, err = literal(of[1]); err != nil {
		return "", "", fmt.Errorf("the English %w", err)
	}
	if key == "" || english == "" {
		return "", "", fmt.Errorf("the key and the English must say something")
	}
	return key, english, nil
}

// literal reads "a" and "a" + "b".
func literal(e ast.Expr) (string, error) {
	switch e := e.(type) {
	case *ast.BasicLit:
		return strconv.Unquote(e.Value)
	case *ast.BinaryExpr:
		left, err := literal(e.X)
		if err != nil {
			return "", err
		}
		right, err := literal(e.Y)
		return left + right, err
	case *ast.ParenExpr:
		return literal(e.X)
	}
	return "", fmt.Errorf("must be written out, so that it can be gathered")
}

var hole = regexp.MustCompile(`{{[^}]*}}`)

// A translation may order its holes as its language likes, but must have the same ones, and no key that
// English does not have.
func TestTranslationsKeepTheHoles(t *testing.T) {
	english, err := WordsOf(language.English)
	if err != nil {
		t.Fatal(err)
	}
	tags, err := Languages()
	if err != nil {
		t.Fatal(err)
	}
	for _, tag := range tags {
		words, err := WordsOf(tag)
		if err != nil {
			t.Fatal(err)
		}
		for _, key := range slices.Sorted(maps.Keys(words)) {
			if _, known := english[key]; !known {
				t.Errorf("%s: key %q is not said in English", tag, key)
				continue
			}
			a, b := hole.FindAllString(english[key], -1), hole.FindAllString(words[key], -1)
			slices.Sort(a)
			slices.Sort(b)
			if diff := cmp.Diff(slices.Compact(a), slices.Compact(b)); diff != "" {
				t.Errorf("%s: key %q: holes differ: -English +%s\n%s", tag, key, tag, diff)
			}
		}
	}
}
