package money

import (
	"strings"

	"servewright/domain"
)

// Currency is an ISO 4217 alphabetic code, such as "EUR".
type Currency string

// codesByMinor are the codes of ISO 4217 list one (published 2024-06-25 by the
// maintenance agency, SIX Financial Information) by their minor units: digits
// after the point of the smallest unit in which accounts are kept. Codes
// without minor units (metals, bond units, test codes) are left out: nobody
// pays a supplier in them. XCG, which took over from ANG on 2025-03-31, is
// younger than that list and is from memory.
var codesByMinor = [...]string{
	0: "BIF CLP DJF GNF ISK JPY KMF KRW PYG RWF UGX UYI VND VUV XAF XOF XPF",
	2: `AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BMD BND BOB BOV BRL BSD BTN BWP BYN BZD
		CAD CDF CHE CHF CHW CNY COP COU CRC CUC CUP CVE CZK DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL
		GHS GIP GMD GTQ GYD HKD HNL HTG HUF IDR ILS INR IRR JMD KES KGS KHR KPW KYD KZT LAK LBP LKR LRD
		LSL MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD PAB PEN
		PGK PHP PKR PLN QAR RON RSD RUB SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB
		TJS TMT TOP TRY TTD TWD TZS UAH USD USN UYU UZS VED VES WST XCD XCG YER ZAR ZMW ZWG`,
	3: "BHD IQD JOD KWD LYD OMR TND",
	4: "CLF UYW",
}

// retired names what took the place of codes that old price lists still carry
// (from memory; only those whose successor is not in doubt).
var retired = map[string]string{
	"ATS": "EUR", "BEF": "EUR", "CYP": "EUR", "DEM": "EUR", "EEK": "EUR", "ESP": "EUR", "FIM": "EUR",
	"FRF": "EUR", "GRD": "EUR", "HRK": "EUR", "IEP": "EUR", "ITL": "EUR", "LTL": "EUR", "LUF": "EUR",
	"LVL": "EUR", "MTL": "EUR", "NLG": "EUR", "PTE": "EUR", "SIT": "EUR", "SKK": "EUR",
	"BYR": "BYN", "MRO": "MRU", "SLL": "SLE", "STD": "STN", "VEF": "VES", "ZWL": "ZWG",
}

var minorUnits = func() map[Currency]int {
	m := map[Currency]int{}
	for digits, codes := range codesByMinor {
		for code := range strings.FieldsSeq(codes) {
			m[Currency(code)] = digits
		}
	}
	return m
}()

// ParseCurrency reads an ISO 4217 code in capitals. Codes without minor units,
// such as XAU and XXX, and retired codes, such as DEM, are refused with code
// BAD_CURRENCY.
func ParseCurrency(s string) (Currency, error) {
	if _, ok := minorUnits[Currency(s)]; ok {
		return Currency(s), nil
	}
	e := domain.Errorf(domain.Invalid, "%q is not a currency to pay in; write its ISO 4217 code, such as EUR%s", clip(s), hint(s))
	e.Code = "BAD_CURRENCY"
	return "", e
}

// hint names the code that was probably meant.
func hint(s string) string {
	up := strings.ToUpper(strings.TrimSpace(clip(s)))
	if now, ok := retired[up]; ok {
		return "; " + up + " is retired and " + now + " took its place"
	}
	if _, ok := minorUnits[Currency(up)]; ok {
		return "; did you mean " + up + "?"
	}
	return ""
}

// MinorUnits returns the digits after the point of c's smallest unit, 0 to 4;
// 2 for a code that is not in the table.
func (c Currency) MinorUnits() int {
	if n, ok := minorUnits[c]; ok {
		return n
	}
	return 2
}

// clip shortens what a person typed so that an error can repeat it.
func clip(s string) string {
	s = strings.ToValidUTF8(s, "�")
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "…"
	}
	return s
}
