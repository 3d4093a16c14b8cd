package repotest

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"servewright/domain"
	"servewright/domain/chill"
	"servewright/domain/recipe"
	"servewright/repo"
)

func names(list []recipe.Kept[recipe.Component]) []string {
	out := []string{}
	for _, k := range list {
		out = append(out, k.Value.Name)
	}
	return out
}

func testFilters(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	add := func(name, code string, cat recipe.Category, status recipe.Status) recipe.ID {
		c := bottle(name)
		c.Code, c.Category, c.Status = code, cat, status
		return must(s.AddComponent(ctx, c, noon))(t).Value.ID
	}
	creme := add("Cre\u0300me de Noyau", "N-1", recipe.Liqueur, recipe.Active) // letter and mark
	add("İncir 50%_Proof", "", recipe.Spirit, recipe.Active)
	add("Straße Gin 🍸", "G-1", recipe.Spirit, recipe.Delisted)
	made := batch("House Crème", creme)
	must(s.AddComponent(ctx, made, noon))(t)
	tests := []struct {
		why    string
		filter recipe.Filter
		want   []string
	}{
		{"everything", recipe.Filter{}, []string{"Cre\u0300me de Noyau", "House Crème", "İncir 50%_Proof", "Straße Gin 🍸"}},
		{"one-character accent finds letter and mark", recipe.Filter{Name: "CR\u00C8ME"}, []string{"Cre\u0300me de Noyau", "House Crème"}},
		{"no accent finds accents", recipe.Filter{Name: "creme"}, []string{"Cre\u0300me de Noyau", "House Crème"}},
		{"Turkish dotted capital", recipe.Filter{Name: "incir"}, []string{"İncir 50%_Proof"}},
		{"Turkish dotless small", recipe.Filter{Name: "ıncır"}, []string{"İncir 50%_Proof"}},
		{"sharp s", recipe.Filter{Name: "STRASSE"}, []string{"Straße Gin 🍸"}},
		{"emoji", recipe.Filter{Name: "🍸"}, []string{"Straße Gin 🍸"}},
		{"% is a character", recipe.Filter{Name: "0%"}, []string{"İncir 50%_Proof"}},
		{"% is no wildcard", recipe.Filter{Name: "i%r"}, []string{}},
		{"_ is a character", recipe.Filter{Name: "%_p"}, []string{"İncir 50%_Proof"}},
		{"_ is no wildcard", recipe.Filter{Name: "_"}, []string{"İncir 50%_Proof"}},
		{`\ is a character`, recipe.Filter{Name: `\`}, []string{}},
		{"broken text", recipe.Filter{Name: "a\x00\xFF"}, []string{}},
		{"category", recipe.Filter{Category: "liqueur"}, []string{"Cre\u0300me de Noyau", "House Crème"}},
		{"kind", recipe.Filter{Kind: recipe.HouseMade}, []string{"House Crème"}},
		{"status", recipe.Filter{Status: recipe.Delisted}, []string{"Straße Gin 🍸"}},
		{"code", recipe.Filter{Code: "N-1"}, []string{"Cre\u0300me de Noyau"}},
		{"code is exact", recipe.Filter{Code: "n-1"}, []string{}},
		{"all together", recipe.Filter{Name: "noyau", Category: "liqueur", Kind: recipe.Bought, Status: recipe.Active, Code: "N-1"}, []string{"Cre\u0300me de Noyau"}},
		{"nothing fits all", recipe.Filter{Name: "noyau", Category: "spirit"}, []string{}},
		{"quotes", recipe.Filter{Category: "' OR '1'='1"}, []string{}},
		{"NUL", recipe.Filter{Code: "a\x00"}, []string{}},
		{"components have no method", recipe.Filter{Method: "shake"}, []string{}},
	}
	for _, tt := range tests {
		list, next, err := s.Components(ctx, tt.filter)
		if err != nil || next != nil || !slices.Equal(names(list), tt.want) {
			t.Errorf("%s: %+q, next %v, error %v; want %+q", tt.why, names(list), next, err, tt.want)
		}
	}
	testSpecFilters(t, s, creme)
}

func testSpecFilters(t *testing.T, s *repo.Store, part recipe.ID) {
	ctx := t.Context()
	sour, tall := drink("Sour", part), drink("Tall", part)
	sour.Category, tall.Method = "sour", chill.Highball
	for _, sp := range []recipe.Spec{sour, tall} {
		must(s.AddSpec(ctx, sp, noon))(t)
	}
	for _, f := range []recipe.Filter{{Method: "highball"}, {Name: "TALL"}, {Category: ""}} {
		list, _, err := s.Specs(ctx, f)
		if err != nil || len(list) == 0 || list[len(list)-1].Value.Name != "Tall" {
			t.Errorf("specs by %+v: %v, %v; want Tall last", f, list, err)
		}
	}
	if list, _, err := s.Specs(ctx, recipe.Filter{Category: "sour"}); err != nil || len(list) != 1 {
		t.Errorf("specs of category sour: %v, %v; want one", list, err)
	}
}

// testSorted has names that ICU, C and English rules sort differently.
func testSorted(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	sorted := []string{"!", "10", "9", "A b", "Á C", "a-b", "AB", "a_b", "äz", "b", "B c", "Éclair", "eddy", "Zoo", "Øl", "Ω", "я", "日", "🍸"}
	slices.SortFunc(sorted, func(a, b string) int { // what is folded compares by bytes
		return strings.Compare(foldedByHand(a), foldedByHand(b))
	})
	shuffled := slices.Clone(sorted)
	for i := range shuffled {
		j := (i * 7) % len(shuffled)
		shuffled[i], shuffled[j] = shuffled[j], shuffled[i]
	}
	for _, name := range shuffled {
		must(s.AddComponent(ctx, bottle(name), noon))(t)
	}
	list, _, err := s.Components(ctx, recipe.Filter{})
	if err != nil || !slices.Equal(names(list), sorted) {
		t.Errorf("listed %q (%v)\n want %q", names(list), err, sorted)
	}
}

// foldedByHand folds the names of testSorted.
func foldedByHand(s string) string {
	return strings.NewReplacer("á", "a", "ä", "a", "é", "e", "ø", "o").Replace(strings.ToLower(s))
}

func testPages(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	const n = 25
	want := map[recipe.ID]bool{}
	for i := range n { // names that are equal, and equal but for case
		want[must(s.AddComponent(ctx, bottle([]string{"Same", "sAME", "other"}[i%3]), noon))(t).Value.ID] = true
	}
	for _, limit := range []int{1, 2, 7, n - 1, n, n + 1, 200, 0, -1, 1000} {
		seen := map[recipe.ID]bool{}
		f := recipe.Filter{Limit: limit}
		for {
			list, next, err := s.Components(ctx, f)
			if err != nil || limit > 0 && len(list) > min(limit, 200) {
				t.Fatalf("limit %d: %d items, %v", limit, len(list), err)
			}
			for _, k := range list {
				if seen[k.Value.ID] {
					t.Fatalf("limit %d: %s is on two pages", limit, k.Value.ID)
				}
				seen[k.Value.ID] = true
			}
			if next == nil {
				break
			}
			f.After = *next
		}
		wantSame(t, seen, want, fmt.Sprintf("all pages of %d", limit))
	}
}

// testPagesUnderWrites: what stays through a walk over the pages is seen once,
// whatever comes and goes meanwhile.
func testPagesUnderWrites(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	stays := map[recipe.ID]bool{}
	for i := range 40 {
		stays[must(s.AddComponent(ctx, bottle(fmt.Sprintf("stays %02d", i)), noon))(t).Value.ID] = true
	}
	stop, done := make(chan struct{}), sync.WaitGroup{}
	done.Go(func() { comeAndGo(t, db.Store(t), stop) })
	defer func() { close(stop); done.Wait() }()
	for range 5 {
		seen := map[recipe.ID]int{}
		for f := (recipe.Filter{Limit: 3}); ; {
			list, next, err := s.Components(ctx, f)
			if err != nil {
				t.Error(err)
				return
			}
			for _, k := range list {
				seen[k.Value.ID]++
			}
			if next == nil {
				break
			}
			f.After = *next
		}
		for id := range stays {
			if seen[id] != 1 {
				t.Errorf("a component that was there all along was seen %d times", seen[id])
			}
		}
	}
}

// comeAndGo adds and deletes components between those that stay.
func comeAndGo(t *testing.T, s *repo.Store, stop <-chan struct{}) {
	ctx := context.WithoutCancel(t.Context())
	for i := 0; ; i++ {
		select {
		case <-stop:
			return
		default:
		}
		k, err := s.AddComponent(ctx, bottle(fmt.Sprintf("stays %02d and goes", i%40)), noon)
		if err == nil {
			err = s.DeleteComponent(ctx, k.Value.ID, 1, noon)
		}
		if err != nil {
			t.Error(err)
			return
		}
	}
}

func testBadPosition(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	for _, p := range []recipe.Position{{ID: "7"}, {ID: "' OR 1"}, {Key: "a\x00"}, {Key: "\xFF"}} {
		_, _, err := s.Components(ctx, recipe.Filter{After: p})
		wantKind(t, err, domain.Malformed, fmt.Sprintf("a list after %+q", p))
	}
	list, next, err := s.Components(ctx, recipe.Filter{After: recipe.Position{Key: "zzz", ID: newID()}})
	if err != nil || len(list) != 0 || next != nil {
		t.Errorf("after the end: %v, %v, %v", list, next, err)
	}
}

func testRevisionPages(t *testing.T, db Database) {
	ctx, s := t.Context(), db.Store(t)
	c := must(s.AddComponent(ctx, bottle("1"), noon))(t)
	const n = 7
	for i := 1; i < n; i++ {
		must(s.EditComponent(ctx, c.Value.ID, i, rename(fmt.Sprint(i+1)), noon))(t)
	}
	if err := s.DeleteComponent(ctx, c.Value.ID, n, noon); err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		after, limit int
		want         []int // numbers
	}{
		{0, 3, []int{8, 7, 6}}, {6, 3, []int{5, 4, 3}}, {3, 3, []int{2, 1}}, {1, 3, nil}, {0, 0, []int{8, 7, 6, 5, 4, 3, 2, 1}}, {100, 1, []int{8}}, {-5, 1, []int{8}},
	}
	for _, tt := range tests {
		list := must(s.ComponentRevisions(ctx, c.Value.ID, tt.after, tt.limit))(t)
		var got []int
		for _, k := range list {
			got = append(got, k.Number)
			if want := fmt.Sprint(min(k.Number, n)); k.Value.Name != want || k.Deleted != (k.Number == 8) {
				t.Errorf("revision %d is %q, deleted %v", k.Number, k.Value.Name, k.Deleted)
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%d revisions after %d: %v, want %v", tt.limit, tt.after, got, tt.want)
		}
	}
}
