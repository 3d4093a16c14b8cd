package liquid

import "servewright/domain/measure"

// Volume returns the volume in mL at 20 °C: that of the ethanol and water
// together (OIML R 22), and for everything else its mass times its apparent
// specific volume in water. Sugars are read at w = all sugars ÷ (sugars +
// water), each with its own volume; any other substance at its own share of
// itself + water.
//
// Ethanol and water alone are exact to the tables, sugar and water to SPS-4.
// With both, ±0.02 % vol is expected of the strength and ±0.1 % vol at 40 % vol
// and 500 g/L; no measured table of the three was found that would prove it.
//
// A mix without liquid gives the volume its parts would add to a solution, not
// the volume of a heap.
func (m *Mix) Volume() measure.Volume {
	water, v := m[Water], 0.0
	if liquid := water + m[Ethanol]; liquid > 0 {
		v = 1000 * liquid / ethanolWater20(m[Ethanol]/liquid)
	}
	if sugar := m.SugarG(); sugar > 0 {
		v += m.sugarsVolume(sugar / (sugar + water))
	}
	for s := Glycerol; s < Substances; s++ {
		if g := m[s]; g != 0 {
			v += g * apparentVolume(s, g/(g+water))
		}
	}
	return measure.Volume(v)
}

// sugarsVolume is the volume all sugars take, in mL, at their share w.
func (m *Mix) sugarsVolume(w float64) float64 {
	phi := sucroseVolume(w)
	v := m[Sucrose] * phi
	for s := Glucose; s <= Maltose; s++ {
		if g := m[s]; g != 0 {
			v += g * sugarVolume(s, w, phi)
		}
	}
	return v
}

// Density returns the density in g/mL at 20 °C, 0 for an empty mix.
func (m *Mix) Density() measure.Density {
	v := m.Volume()
	if v == 0 {
		return 0
	}
	return measure.Density(float64(m.Mass()) / float64(v))
}

// ABV returns the strength: the volume the ethanol has alone at 20 °C over the
// volume of the mix at 20 °C. It is 0 for an empty mix.
func (m *Mix) ABV() measure.ABV {
	if m[Ethanol] == 0 {
		return 0
	}
	return measure.ABV(m[Ethanol] / (ethanol20 / 1000) / float64(m.Volume()))
}

// Brix returns the soluble solids in mass %, acids included. Fat, fibre and
// carbonic acid are not among them. With any alcohol in the mix, or nothing at
// all, there is no such figure and ok is false.
func (m *Mix) Brix() (pct float64, ok bool) {
	mass := float64(m.Mass())
	if m[Ethanol] != 0 || mass == 0 {
		return 0, false
	}
	return 100 * m.solubleG() / mass, true
}

// solubleG is the grams of what counts as soluble solids, added up rather than
// taken from the whole, so that it is never a hair below 0.
func (m *Mix) solubleG() float64 {
	sum := 0.0
	for s := Sucrose; s < Substances; s++ {
		if s != Fat && s != Fibre && s != CarbonicAcid {
			sum += m[s]
		}
	}
	return sum
}

// invertPerSucrose is the grams of glucose and fructose that one gram of
// sucrose splits into: 2 × 180.156 ÷ 342.296.
const invertPerSucrose = 2 * 180.156 / 342.296

// SugarAsInvertG returns the grams of sugars as invert sugar, in which the EU
// counts the sweetening of spirit drinks (Regulation (EU) 2019/787 Annex I).
// Sucrose counts as what it splits into, other sugars as they are.
func (m *Mix) SugarAsInvertG() float64 {
	return m.SugarG() + m[Sucrose]*(invertPerSucrose-1)
}
