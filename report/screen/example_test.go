package screen_test

import (
	"fmt"
	"strings"

	"rotorsieve/model"
	"rotorsieve/report/screen"
	"rotorsieve/sweep"
)

// The head of a data sheet.
func ExampleDataSheet() {
	m, err := model.New(model.Defaults())
	if err != nil {
		fmt.Println(err)
		return
	}
	d := model.Design{
		Diameter: 0.127, Pitch: 0.1016, Blades: 3,
		Stator: sweep.StatorOf(2207), KV: 1750,
		Cells: 4, Capacity: 1500 * 3.6, Payload: 0.030,
	}
	craft, err := m.Evaluate(d)
	if err != nil {
		fmt.Println(err)
		return
	}
	var sheet strings.Builder
	if err := screen.DataSheet(&sheet, d, craft, nil, false, nil); err != nil {
		fmt.Println(err)
		return
	}
	head, _, _ := strings.Cut(sheet.String(), "  Chord")
	fmt.Println(head)
	// Output:
	// 5 × 4 in, 3 blades, 2207 at 1750 rpm/V, 4S 1500 mAh, payload 30 g
	//
	// Inputs
	//   Diameter                       D                      5 in
	//   Pitch                          P                      4 in
	//   Blades                         B                      3
	//   Stator                         stator              2207 (22 mm × 7 mm)
	//   KV                             KV                  1750 rpm/V
	//   Cells                          S                     4S
	//   Capacity                       C                   1500 mAh
	//   Payload                        m_pl                  30 g
}
