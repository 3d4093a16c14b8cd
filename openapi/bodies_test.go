package openapi_test

import "encoding/json"

// body is an example of what an operation takes. The contract test sends every
// one of them, in the order in which its operations are called.
type body struct{ name, text string }

func (b body) value() any {
	var v any
	if err := json.Unmarshal([]byte(b.text), &v); err != nil {
		panic(b.name + ": " + err.Error()) // a mistake in this file
	}
	return v
}

const ginPack = `"packs": [{"size": {"amount": 700, "unit": "mL"}, "count": 6, "price": {"amount": "99.00", "currency": "EUR"},
  "valid_from": "2026-03-01", "supplier": "Quay Wholesale", "preferred": true}]`

const pierLamp = `"code": "C-104", "name": "Pier Lamp", "category": "sour", "method": "shake", "serving_ice": "none", "glass": "coupe",
 "lines": [{"component_id": "code:GIN", "amount": 45, "unit": "mL"},
  {"component_id": "code:LIQ-7", "amount": 20, "unit": "mL"},
  {"component_id": "code:LEMON", "amount": 22.5, "unit": "mL"},
  {"component_id": "code:LEMON-TWIST", "amount": 1, "unit": "piece", "stage": "garnish"}],
 "price": {"amount": "13.00", "currency": "EUR", "tax": "included", "tax_pct": "20"},
 "external_ids": [{"system": "pos", "id": "C-104"}]`

// bodies are the examples by operation. All names and prices are invented.
var bodies = map[string][]body{
	"putHouse": {{"a bar", `{"name": "The Tin Lantern", "time_zone": "Europe/Lisbon", "currency": "EUR", "country": "PT", "tax_pct": "23",
 "labour_per_hour": {"amount": "14.00", "currency": "EUR"}, "energy_per_kwh": {"amount": "0.22", "currency": "EUR"},
 "target_pour_cost_pct": "20"}`}},
	"patchHouse": {{"a warmer room", `{"room_c": 24}`}},
	"addComponent": {
		{"a spirit", `{"kind": "bought", "code": "GIN", "name": "Dune gin 43", "category": "spirit", "label": {"abv_pct": 43}, ` + ginPack + `, "allergens": {"declared": []}}`},
		{"a liqueur", `{"kind": "bought", "code": "LIQ-7", "name": "Brindle plum liqueur 25", "category": "liqueur",
 "label": {"abv_pct": 25, "sugar_g_per_l": 280},
 "packs": [{"size": {"amount": 500, "unit": "mL"}, "price": {"amount": "14.90", "currency": "EUR"}, "tax": "included", "valid_from": "2026-03-01"}],
 "allergens": {"declared": ["sulphites"]}, "external_ids": [{"system": "stock", "id": "000417"}]}`},
		{"sugar", `{"kind": "bought", "code": "SUGAR", "name": "White sugar", "category": "sugar", "label": {"mass_fraction": {"sucrose": 1}},
 "packs": [{"size": {"amount": 1, "unit": "kg"}, "count": 10, "price": {"amount": "11.50", "currency": "EUR"}, "valid_from": "2026-03-01"}],
 "allergens": {"declared": []}}`},
		{"juice by the fruit", `{"kind": "bought", "code": "LEMON", "name": "Lemon juice, pressed", "category": "juice",
 "label": {"brix_pct": 8.3, "acids_g_per_l": {"citric": 46, "malic": 2}}, "piece": {"juice_ml": 45}, "waste_pct": 5,
 "packs": [{"size": {"amount": 1, "unit": "piece"}, "count": 100, "price": {"amount": "29.00", "currency": "EUR"}, "valid_from": "2026-03-01"}],
 "allergens": {"declared": []}}`},
		{"a garnish that nobody has priced", `{"kind": "bought", "code": "LEMON-TWIST", "name": "Lemon twist", "category": "garnish"}`},
		{"a house-made liqueur", `{"kind": "house_made", "code": "H-PLUM", "name": "House plum liqueur", "category": "liqueur",
 "recipe": {"lines": [{"component_id": "code:GIN", "amount": 580, "unit": "mL"},
   {"component_id": "code:SUGAR", "amount": 280, "unit": "g"}, {"component_id": "code:LEMON", "amount": 20, "unit": "mL", "note": "strained"}],
  "yield": {"measured": {"amount": 740, "unit": "mL"}}, "labour_min": 25, "energy_kwh": 0.9, "shelf_life_days": 60}}`},
	},
	"putComponent": {{"a spirit, a little stronger", `{"kind": "bought", "code": "GIN", "name": "Dune gin 44", "category": "spirit", "label": {"abv_pct": 44}, ` +
		ginPack + `, "allergens": {"declared": []}}`}},
	"patchComponent": {
		{"a new strength", `{"label": {"abv_pct": 43.5}}`},
		{"waste known, notes gone", `{"waste_pct": 2, "notes": null}`},
	},
	"addSpec": {
		{"a sour", "{" + pierLamp + "}"},
		{"a highball", `{"code": "C-105", "name": "Breakwater", "method": "highball", "serving_ice": "cubes", "glass": "highball",
 "lines": [{"component_id": "code:GIN", "amount": 40, "unit": "mL", "poured_c": 4},
  {"component_id": "code:H-PLUM", "amount": 1, "unit": "barspoon", "stage": "float"}], "conditions": {"ice_c": -8}}`},
	},
	"postServe": {{"one that is not stored", `{"name": "Half Ebb", "method": "stir",
 "lines": [{"component_id": "code:GIN", "amount": 2, "unit": "oz"}, {"component_id": "code:LIQ-7", "amount": 0.5, "unit": "oz"}]}`}},
	"postSwap": {
		{"across the menu", `{"from": "code:LIQ-7", "to": "code:H-PLUM"}`},
		{"in one drink", `{"from": "code:LIQ-7", "to": "code:H-PLUM", "specs": ["code:C-104"], "amounts": "same", "limit": 1}`},
	},
	"addPack": {{"a dearer price from the summer on", `{"size": {"amount": 700, "unit": "mL"}, "count": 6, "price": {"amount": "105.00", "currency": "EUR"},
 "valid_from": "2026-07-01", "supplier": "Quay Wholesale"}`}},
	"putPack": {{"dearer still", `{"size": {"amount": 700, "unit": "mL"}, "count": 6, "price": {"amount": "108.00", "currency": "EUR"},
 "valid_from": "2026-07-01", "supplier": "Quay Wholesale", "preferred": true}`}},
	"patchPack": {{"a month later", `{"valid_from": "2026-08-01"}`}},
	"addLine":   {{"a dash on top", `{"component_id": "code:GIN", "amount": 1, "unit": "dash", "stage": "float"}`}},
	"putLine":   {{"two dashes", `{"component_id": "code:GIN", "amount": 2, "unit": "dash", "stage": "float"}`}},
	"patchLine": {{"a note", `{"note": "from the chilled bottle"}`}},
	"putSpec":   {{"a sour, with a note", "{" + pierLamp + `, "notes": "serve without a straw"}`}},
	"patchSpec": {{"a new price", `{"price": {"amount": "14.00", "currency": "EUR", "tax": "included"}}`}},
}
