package wire

// Page is a part of a list.
type Page[B any] struct {
	Items []B `json:"items" validate:"required"`
	// NextCursor asks for the page after this one; null at the end. The Link header says the same.
	NextCursor *string `json:"next_cursor" extensions:"x-nullable" example:"eyJsIjoiOWY4NmQwODE4ODRjN2Q2NSJ9"`
}

// Uses are the things that a change of a component would touch.
type Uses struct {
	// Components are the house-made components with a line that points at it.
	Components []Ref `json:"components"`
	// Specs are the specs with a line that points at it.
	Specs []Ref `json:"specs"`
	// ReachedSpecs are all specs that pour it, through house-made components too.
	ReachedSpecs []Ref `json:"reached_specs"`
} // @name Uses

// Ref names a stored thing.
type Ref struct {
	ID   string `json:"id" format:"uuid" example:"0199b7a2-6f10-7c3e-8d55-3a1f6f0e9b21"`
	Code string `json:"code,omitempty" example:"C-104"`
	Name string `json:"name" example:"Pier Lamp"`
} // @name Ref
