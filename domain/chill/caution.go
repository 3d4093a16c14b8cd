package chill

import (
	"fmt"

	"servewright/domain"
)

// outsideFit says that the published fit does not speak of so weak or strong a
// drink.
func outsideFit(p *Practice, abv float64) domain.Caution {
	return domain.Caution{
		Code: "OUTSIDE_PUBLISHED_FIT", Severity: domain.Note,
		Detail: fmt.Sprintf("the published dilution is for %.0f to %.0f %% vol before ice and this drink has %.1f: the energy balance is shown instead",
			100*p.From, 100*p.To, 100*abv),
		Source: p.Source,
	}
}

// iceAssumed says that a method that works in the glass was given the ice it
// usually has.
func iceAssumed(in *Input) domain.Caution {
	return domain.Caution{
		Code: "SERVING_ICE_ASSUMED", Severity: domain.Note,
		Detail: fmt.Sprintf("serving_ice is none, and a %s works on the ice it is served on: it is taken to stand on %s; say which ice, or build the drink if it has none", in.Method, in.Standing()),
		Source: "common practice, no source",
	}
}

// cautions says what ended the meeting with the ice, where it was not what was
// meant.
func (o outcome) cautions() []domain.Caution {
	c := domain.Caution{Severity: domain.Note, Source: energySource}
	switch o.why {
	case iceGone:
		c.Code, c.Severity = "ICE_ALL_MELTED", domain.Warning
		c.Detail = fmt.Sprintf("all the ice melts before the drink is as cold as it should be (%.1f °C): use more ice or colder ingredients", o.endC)
	case atFreezing:
		c.Code = "TARGET_BELOW_FREEZING"
		c.Detail = fmt.Sprintf("ice cannot make this drink that cold: it settles at its freezing point, %.1f °C", o.endC)
	case tooCold:
		c.Code = "NOTHING_MELTS"
		c.Detail = "drink and ice are so cold that no ice melts; water clinging to the ice joins all the same, and water that would freeze out of the drink is not counted"
	default:
		return nil
	}
	return []domain.Caution{c}
}
