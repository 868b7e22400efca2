package main

import (
	"debug/buildinfo"
	"encoding/json"
	"fmt"
	"strings"
	"time"
)

// release is what is handed out.
type release struct {
	info    *buildinfo.BuildInfo
	version string
	at      time.Time
	parts   []part
}

// The bill of materials is CycloneDX 1.5 in JSON; https://cyclonedx.org/docs/1.5/json/ says what its fields mean.
type (
	bom struct {
		Format       string      `json:"bomFormat"`
		Spec         string      `json:"specVersion"`
		Version      int         `json:"version"`
		Metadata     metadata    `json:"metadata"`
		Components   []component `json:"components"`
		Dependencies []depends   `json:"dependencies"`
	}
	metadata struct {
		Timestamp string    `json:"timestamp"`
		Component component `json:"component"`
	}
	component struct {
		Type       string      `json:"type"`
		Ref        string      `json:"bom-ref"`
		Name       string      `json:"name"`
		Version    string      `json:"version"`
		Scope      string      `json:"scope,omitempty"`
		Licenses   []holder    `json:"licenses,omitempty"`
		Purl       string      `json:"purl"`
		Properties []property  `json:"properties,omitempty"`
		References []reference `json:"externalReferences,omitempty"`
	}
	holder struct {
		License named `json:"license"`
	}
	named struct {
		ID   string `json:"id,omitempty"`
		Name string `json:"name,omitempty"`
	}
	property  struct{ Name, Value string }
	reference struct{ Type, URL string }
	depends   struct {
		Ref string   `json:"ref"`
		On  []string `json:"dependsOn,omitempty"`
	}
)

func (p property) MarshalJSON() ([]byte, error) {
	return json.Marshal(map[string]string{"name": p.Name, "value": p.Value})
}

func (r reference) MarshalJSON() ([]byte, error) {
	return json.Marshal(map[string]string{"type": r.Type, "url": r.URL})
}

func (r *release) bill() ([]byte, error) {
	self := component{Type: "application", Ref: "pkg:golang/skegworth@" + r.version, Name: "skegworth", Version: r.version,
		Purl: "pkg:golang/skegworth@" + r.version, Licenses: []holder{{named{ID: "Apache-2.0"}}}}
	for _, key := range []string{"GOOS", "GOARCH", "CGO_ENABLED", "-tags", "-trimpath"} {
		self.Properties = append(self.Properties, property{"build:" + strings.TrimPrefix(key, "-"), setting(r.info, key)})
	}
	out := bom{Format: "CycloneDX", Spec: "1.5", Version: 1, Metadata: metadata{Timestamp: r.at.Format(time.RFC3339), Component: self}}
	uses := depends{Ref: self.Ref}
	for _, p := range r.parts {
		c := component{Type: "library", Ref: p.purl, Name: p.name, Version: p.version, Scope: "required", Purl: p.purl}
		had := map[string]bool{}
		for _, l := range p.licences {
			name := named{ID: l.id}
			if l.id == "" {
				name = named{Name: "see " + l.file}
			}
			if !had[name.ID+name.Name] {
				had[name.ID+name.Name] = true
				c.Licenses = append(c.Licenses, holder{name})
			}
		}
		if p.sum != "" {
			c.Properties = append(c.Properties, property{"go:sum", p.sum})
			c.References = append(c.References, reference{"documentation", "https://pkg.go.dev/" + p.name + "@" + p.version})
		}
		out.Components = append(out.Components, c)
		out.Dependencies = append(out.Dependencies, depends{Ref: p.purl})
		uses.On = append(uses.On, p.purl)
	}
	out.Dependencies = append([]depends{uses}, out.Dependencies...)
	text, err := json.MarshalIndent(out, "", "  ")
	return append(text, '\n'), err
}

// licences are the texts of all licences, each part by itself.
func (r *release) licences() string {
	var out strings.Builder
	fmt.Fprintf(&out, "What others wrote and is in skegworth %s, with the licences it comes under.\n", r.version)
	for _, p := range r.parts {
		for _, l := range p.licences {
			fmt.Fprintf(&out, "\n%s\n%s %s, %s\n\n%s\n", strings.Repeat("=", 100), p.name, p.version, l.file, strings.TrimSpace(l.text))
		}
	}
	return out.String()
}
