package liquid

// densityStd is one standard uncertainty of a density that a strength or a
// sugar is worked out from, g/mL: what weighing 100 mL to 0.05 g gives (chosen
// here). It is worth 1.3 g/L of sugar.
const densityStd = 0.0005

// spread finds what one standard uncertainty of each figure does to the masses
// in a gram, by closing again with the figure that much higher and lower.
func (c *Closed) spread(r *reading, u *Usual) {
	switch {
	case r.abvFrom == given && r.abv > 0:
		c.vary("abv", r, u.ABVSpread, func(x *reading) *float64 { return &x.abv }, 1)
	case r.abvFrom == estimated:
		c.vary("abv", r, u.ABV.Std(), func(x *reading) *float64 { return &x.abv }, 1)
	}
	if r.acidFrom == estimated {
		c.vary("acid", r, u.Acid.Std(), func(x *reading) *float64 { return &x.acid[CitricAcid] }, maxGramsPerLitre)
	}
	if r.abvFrom == solved || r.sugarFrom == solved {
		c.vary("density", r, densityStd, func(x *reading) *float64 { return &x.density }, heaviest)
	}
	switch {
	case r.sugarFrom == given && r.sugar > 0:
		c.vary("sugar", r, sugarStd(r.sugar), func(x *reading) *float64 { return &x.sugar }, maxGramsPerLitre)
	case r.sugarFrom == estimated:
		c.vary("sugar", r, u.Sugar.Std(), func(x *reading) *float64 { return &x.sugar }, maxGramsPerLitre)
	}
}

// vary adds the spread of one figure, 0 to most, with standard uncertainty std.
// Where one side cannot be closed the other stands for both. A figure that moves
// nothing is no spread.
func (c *Closed) vary(source string, r *reading, std float64, figure func(*reading) *float64, most float64) {
	if !(std > 0) {
		return
	}
	up, upStep := r.moved(std, figure, most)
	down, downStep := r.moved(-std, figure, most)
	if upStep == 0 {
		up = c.PerG
	}
	if downStep == 0 {
		down = c.PerG
	}
	up.Add(&down, -1)
	if step := upStep - downStep; step > 0 && up != (Mix{}) {
		up.Scale(std / step)
		c.Spread = append(c.Spread, Spread{Source: source, Per: up})
	}
}

// moved closes r with a figure moved by at most step within 0 and most. The step
// that was taken is 0 when it could not be closed.
func (r *reading) moved(step float64, figure func(*reading) *float64, most float64) (perG Mix, taken float64) {
	x := *r
	f := figure(&x)
	before := *f
	*f = min(max(before+step, 0), most)
	taken = *f - before
	m, err := x.solve()
	if err != nil {
		return Mix{}, 0
	}
	return perGram(m), taken
}
