package handout

// Restricted is what the record of a restricted-use application is known to
// hold for one product on one field; the rest is filled in by hand.
type Restricted struct {
	Product, EPARegNo           string
	Amount                      string // planned on this field, as it is measured
	Field, Customer, Crop, Area string
}

// RecordBlanks are the elements of the record that only the crew and the
// applicator can fill in (after 7 CFR 110.3 and 40 CFR 171.303(b)(7)).
func RecordBlanks() []string {
	return []string{
		"date and start time", "applicator, name and certification no.", "under the supervision of (name, no.)",
		"location (legal description or map)", "customer's address", "amount applied, if not as planned", "target pest",
		"wind, temperature",
	}
}

// record lists the restricted-use products of a load, field by field.
func (w *writer) record(s Sheet) []Restricted {
	var out []Restricted
	for _, line := range s.Lines {
		p := w.products[line.Product]
		if p == nil || !p.Restricted {
			continue
		}
		for i, f := range s.Fields {
			amount := line.Amount // of a carrier, which is not divided by field
			if len(line.Parts) > 0 {
				amount = line.Parts[i]
			}
			out = append(out, Restricted{
				Product: line.Product, EPARegNo: p.EPARegNo, Amount: amount.String(),
				Field: f.Field, Customer: f.Customer, Crop: f.Crop, Area: f.Area.String(),
			})
		}
	}
	return out
}
