package figure

import (
	"rotorsieve/model"
	"rotorsieve/report/finding"
	"rotorsieve/report/words"
	"rotorsieve/sweep"
)

// recommended is the planned design of the recommended build of a class, by the nominal
// model.
func recommended(r *finding.Run, k *finding.Class) (*model.Craft, error) {
	b := k.Choice.Recommended()
	if best := k.Best(); best != nil && best.Index == b.Index {
		return best.Craft, nil
	}
	return sweep.NewEvaluator(r.Study).Craft(b.Index, k.Class)
}

// recommendedMarks marks the classes whose recommended build lies outside the model's
// validity: " *", and says in the note why; "" for the others.
func recommendedMarks(r *finding.Run, found []finding.Class, out *words.Outside) ([]string, error) {
	marks := make([]string, len(found))
	for i := range found {
		if found[i].Choice == nil {
			continue
		}
		c, err := recommended(r, &found[i])
		if err != nil {
			return nil, err
		}
		marks[i] = out.AddCraft(atClass(r, words.Mass(found[i].Class.Limit)), c)
	}
	return marks, nil
}
