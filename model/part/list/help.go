package list

// About is what help says of one kind of list.
type About struct {
	Many    string // "motors", also the name of its flag
	One     string
	Columns []Column
}

// Column is one column of a list.
type Column struct {
	Header  string // as it is usually written, with its unit
	Meaning string
	Needed  bool
}

// Kinds tells of all lists, in the order of their flags.
func Kinds() []About {
	return []About{motors.about(), propellers.about(), packs.about(), frames.about(), boards.about()}
}

func (k *kind[T]) about() About {
	a := About{Many: k.many, One: k.one}
	for i := range k.columns {
		c := &k.columns[i]
		a.Columns = append(a.Columns, Column{c.header(), c.meaning, c.needed})
	}
	return a
}
