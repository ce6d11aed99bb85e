package planfile

import (
	"slices"
	"strings"

	"padturn/model"
)

// usedProducts lists the products that some load takes, in file order.
func (b builder) usedProducts() []model.Product {
	used := make([]bool, len(b.p.Products))
	for i := range b.plan.Loads {
		l := &b.plan.Loads[i]
		if carrier := b.p.Mixes[l.Mix].Carrier; carrier != model.None {
			used[carrier] = true
		}
		for _, dose := range l.Doses {
			used[dose.Product] = true
		}
	}
	var out []model.Product
	for i, p := range b.p.Products {
		if used[i] {
			out = append(out, p)
		}
	}
	return out
}

// cautions are what whoever fills from the plan has to keep in mind. They stand
// in every plan, since a plan is read by people who did not make it.
func cautions(used []model.Product) []string {
	return []string{
		"The label is the law. Rates, crops, adding order, mix partners, wind, buffers and re-entry times are what the label of every product in the tank says, and the strictest one counts. This plan overrides none of them.",
		"A mix that was worked out here is not an approved mix. Read every partner's label, and do a jar test before a mix is made for the first time.",
		ppeCaution(used),
		restrictedCaution(used),
		"Check the backflow gap before every fill, never put the hose into the tank, and stay with the fill until it ends.",
		"Containment, rinsate and spills follow the local code; have the spill kit within reach.",
		"Amounts and times are estimates from the day's figures. Verify every amount by meter or scale.",
	}
}

func ppeCaution(used []model.Product) string {
	text := "Wear the PPE that the labels ask for; keep the safety data sheets and the emergency number at the pad."
	strong := namesWhere(used, func(p model.Product) bool { return strings.EqualFold(p.SignalWord, "danger") })
	if strong != "" {
		text += " Signal word DANGER: " + strong + "."
	}
	return text
}

func restrictedCaution(used []model.Product) string {
	names := namesWhere(used, func(p model.Product) bool { return p.Restricted })
	if names == "" {
		return "Restricted-use products are only for or under a certified applicator; the product list marks none in this plan."
	}
	return "Restricted use, only by or under a certified applicator: " + names + "."
}

func namesWhere(products []model.Product, yes func(model.Product) bool) string {
	var names []string
	for _, p := range products {
		if yes(p) {
			names = append(names, p.Name)
		}
	}
	slices.Sort(names)
	return strings.Join(names, ", ")
}
