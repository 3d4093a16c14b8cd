package measure

import (
	"time"

	"servewright/domain"
)

// Date is a civil date YYYY-MM-DD in the house's time zone. Dates compare as
// text. The zero value is no date.
type Date string

// ParseDate reads a date as RFC 3339 writes it (full-date), years 1900 to 2999.
func ParseDate(s string) (Date, error) {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil || t.Year() < 1900 || t.Year() > 2999 {
		e := domain.Errorf(domain.Invalid, "%q is not a date; write it as 2026-03-01", clip(s))
		e.Code = "BAD_DATE"
		return "", e
	}
	return Date(s), nil
}

// DateIn returns the civil date of instant t in zone.
func DateIn(t time.Time, zone *time.Location) Date {
	return Date(t.In(zone).Format(time.DateOnly))
}
