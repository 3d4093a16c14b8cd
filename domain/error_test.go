package domain

import (
	"errors"
	"fmt"
	"io"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// TestKindThroughWrapping: whatever is wrapped around it, an error is of its
// kind and of no other, and its cause can be found.
func TestKindThroughWrapping(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		kind := Kind(rapid.IntRange(int(Invalid), int(Full)).Draw(t, "kind"))
		var err error = Errorf(kind, "reading the cellar book: %w", io.ErrUnexpectedEOF)
		for range rapid.IntRange(0, 4).Draw(t, "depth") {
			err = fmt.Errorf("outer: %w", err)
		}
		for k := Invalid; k <= Full; k++ {
			if got := errors.Is(err, k); got != (k == kind) {
				t.Fatalf("an error of kind %v is of kind %v: %v", kind, k, got)
			}
		}
		if !errors.Is(err, io.ErrUnexpectedEOF) {
			t.Fatal("the cause is lost")
		}
	})
}

func TestFaultsGather(t *testing.T) {
	var inner, outer Faults
	if outer.Err() != nil {
		t.Error("no faults are an error")
	}
	inner.Add("/amount", "AMOUNT_RANGE", "must be above %d", 0)
	outer.Check("/lines/2", inner.Err())
	outer.Check("/unit", &Error{Kind: Invalid, Code: "UNKNOWN_UNIT", Text: "unknown unit"})
	outer.Check("/notes", io.EOF)
	outer.Check("/nothing", nil)
	want := []Fault{
		{"/lines/2/amount", "AMOUNT_RANGE", "must be above 0"},
		{"/unit", "UNKNOWN_UNIT", "unknown unit"},
		{"/notes", "INVALID", "EOF"},
	}
	if !slices.Equal(outer, want) {
		t.Errorf("gathered %+v, want %+v", outer, want)
	}
	if err := outer.Err(); !errors.Is(err, Invalid) {
		t.Errorf("gathered faults are %v, want Invalid", err)
	}
}

func TestAddCautionOnce(t *testing.T) {
	c := Caution{Code: "RAW_EGG", Severity: Warning, Detail: "contains raw egg"}
	list := AddCaution(AddCaution(nil, c), c)
	if len(list) != 1 {
		t.Errorf("the same caution stands %d times", len(list))
	}
	c.Detail = "another egg"
	if list = AddCaution(list, c); len(list) != 2 {
		t.Errorf("another detail: %d cautions, want 2", len(list))
	}
}
