package liquid_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"servewright/domain/liquid"
	"servewright/domain/measure"
	"servewright/testdata/reference"
)

// The Gauging Manual works at 60 °F with volumes of ethanol at 60 °F: proof is
// twice their per cent. Pounds are weighed in air.
const (
	sixtyF         = measure.Temperature(15.0 + 5.0/9)
	poundsPerWater = 8.32823 // lb of water in air per US gallon at 60 °F, 27 CFR 30.41
	airDensity     = 1.22    // kg/m³ at 60 °F, from memory
)

func at60(p float64) float64 { return liquid.EthanolWaterDensity(p, sixtyF) }

// fractionOfProof is the ethanol mass fraction of a spirit.
func fractionOfProof(proof float64) float64 {
	return bisect(func(p float64) float64 { return 200*p*at60(p)/at60(1) - proof }, 0, 1)
}

// pounds is what one gallon of a spirit weighs in air.
func pounds(proof float64) float64 {
	return poundsPerWater * (at60(fractionOfProof(proof)) - airDensity) / (at60(0) - airDensity)
}

// waterPer100 is the water in gallons in 100 gallons of a spirit.
func waterPer100(proof float64) float64 {
	p := fractionOfProof(proof)
	return 100 * (1 - p) * at60(p) / at60(0)
}

// reduce is the water in gallons that takes 100 gallons from one proof to
// another.
func reduce(from, to float64) float64 {
	return waterPer100(to)*from/to - waterPer100(from)
}

// nbs is what the manual's tables, which rest on NBS 1913, may differ from R 22:
// 0.1 kg/m³ of about 811 at 190 proof (TestNBS1913).
const nbs = 0.1 / 811

// TestGauging works the manual's examples from R 22 densities. tol is nbs of the
// weight it acts on, and half the last digit of the factors or the result.
func TestGauging(t *testing.T) {
	tests := map[string]struct {
		got, tol float64
	}{
		"wine gallons in 81000 lb of 190 proof (factor 0.14718)":                  {81000 / pounds(190), 11921*nbs + 81000*half(5)},
		"proof gallons in 81000 lb of 190 proof (factor 0.27964)":                 {81000 / pounds(190) * 1.9, 22650*nbs + 81000*half(5)},
		"lb water to reduce 1000 lb of 200 proof to 190 proof":                    {1000*(pounds(190)/1.9)/(pounds(200)/2) - 1000, 1082 * nbs},
		"lb in 100 wine gallons of 190 proof":                                     {100 * pounds(190), 679 * nbs},
		"lb in 100 proof gallons of 190 proof":                                    {100 * pounds(190) / 1.9, 358 * nbs},
		"gal water per 100 wine gal to reduce 191 proof to 188 proof (unrounded)": {reduce(191, 188), 0.015},
		"gal water per 100 wine gal to reduce 112 proof to 100 proof":             {reduce(112, 100), 0.02},
	}
	for _, r := range reference.Rows(t, "cfr30_worked_examples.csv") {
		if strings.Contains(r["note"], "ROUNDING ARTEFACT") {
			if got := reduce(191, 188); math.Abs(got-r.Num(t, "published")) < 0.03 {
				t.Errorf("%s: %.3f agrees with %s, which cuts a quotient to two decimals", r["question"], got, r["published"])
			}
			continue
		}
		tt, ok := tests[r["question"]]
		if !ok {
			t.Errorf("%s: not worked", r["question"])
			continue
		}
		near(t, r["question"], tt.got, r.Num(t, "published"), tt.tol, "27 CFR "+r["section"])
	}
}

// TestProofAt20: US proof is not strength at 20 °C; 80 proof is 40.07 % vol.
func TestProofAt20(t *testing.T) {
	p := fractionOfProof(80)
	m := liquid.Mix{liquid.Ethanol: p, liquid.Water: 1 - p}
	near(t, "80 proof", m.ABV().Pct(), 40.07, half(2), "design figure, from R 22 at 60 °F")
}

// TestObscuration: 100 mg of dissolved solids per 100 mL hide 0.4 degrees of
// proof from a hydrometer, a rule of one digit (± 0.05) for 80 to 100 proof. With
// sugar as the solids it holds at 90 and 100 proof. At 80 proof, where density
// changes less with strength, R 22 makes it 0.476, beyond the rounding of the rule.
func TestObscuration(t *testing.T) {
	want := map[float64]float64{80: 0.476, 90: 0.4, 100: 0.4}
	for _, proof := range []float64{80, 90, 100} {
		for _, mg := range []float64{400, 500, 600} {
			c, err := liquid.Close(&liquid.Label{ABV: abvOf(proof / 200), Sugar: ptr(mg / 100)}, liquid.Usual{})
			if err != nil {
				t.Fatal(err)
			}
			seen := bisect(func(a float64) float64 {
				m := spirit(t, 1, a)
				return float64(m.Density()) - float64(c.Density)
			}, 0.3, 0.6)
			hidden := proof - 200*seen
			near(t, fmt.Sprintf("%g mg in %g proof hide", mg, proof), hidden, want[proof]*mg/100, 0.05*mg/100, "27 CFR 30.32, at 80 proof R 22")
		}
	}
}
