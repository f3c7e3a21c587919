package function

import "railsum/calc/types"

// totals is what adds up or counts the rows that belong to a key. The columns
// may be those of the key's own table, for a total beside every row.
func totals() []*Function {
	return []*Function{
		{
			Name: "total_for", Args: "total_for(key, keys, values)", Group: "look-ups",
			Meaning: "the sum of values over the rows in which keys is the key, a text or a number, and 0 if there is no such row; the key may be a row of keys itself, which puts the total of its kind beside each row",
			Example: `total_for("B", coaches.label, coaches.length)`, Answer: "24.2 m",
			takes: arity{3, 3}, rule: totalRule,
			Seek: func(_ *World, key float64, columns [][]float64) (float64, Fault) {
				total, lost := 0.0, 0.0
				for i, v := range columns[0] {
					if same(v, key) {
						total, lost = add(total, lost, columns[1][i])
					}
				}
				if _, fault := sound(total); fault != Sound {
					return 0, Overflow
				}
				return sound(total + lost)
			},
		},
		{
			Name: "count_for", Args: "count_for(key, keys)", Group: "look-ups",
			Meaning: "how many rows of keys are the key, a text or a number; the key may be a row of keys itself",
			Example: `count_for("B", coaches.label)`, Answer: "1",
			takes: arity{2, 2}, rule: countRule,
			Seek: func(_ *World, key float64, columns [][]float64) (float64, Fault) {
				n := 0.0
				for _, v := range columns[0] {
					if same(v, key) {
						n++
					}
				}
				return n, Sound
			},
		},
	}
}

func totalRule(f *Function, args []Arg) (types.Type, *TypeError) {
	if err := wantsPair(f, args); err != nil {
		return types.Type{}, err
	}
	if err := wantsKey(args); err != nil {
		return types.Type{}, err
	}
	t, err := differing(f, args[2:])
	if err != nil {
		err.Arg = 2
	}
	return t, err
}

func countRule(f *Function, args []Arg) (types.Type, *TypeError) {
	if err := wantsColumn(f, args, 1); err != nil {
		return types.Type{}, err
	}
	return types.Plain, wantsKey(args)
}

// wantsKey wants the first argument to be able to stand in the second.
func wantsKey(args []Arg) *TypeError {
	key, keys := args[0], args[1]
	if fitsColumn(key, keys) {
		return nil
	}
	_, err := wrong(0, say("the column holds %s, and the key is %s", keys.Words(), key.Words()))
	return err
}
