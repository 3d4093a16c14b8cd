package openapi_test

import "encoding/json"

// body is an example of what an operation takes. The contract test sends every
// one of them.
type body struct{ name, text string }

func (b body) value() any {
	var v any
	if err := json.Unmarshal([]byte(b.text), &v); err != nil {
		panic(b.name + ": " + err.Error()) // a mistake in this file
	}
	return v
}

// bodies are the examples by operation. All names and prices are invented.
var bodies = map[string][]body{}
