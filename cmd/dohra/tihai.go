package main

import (
	"fmt"
	"math/big"

	"github.com/urfave/cli/v2"

	"dohra/repertoire"
)

func tihaiCommand(d *desk) *cli.Command {
	return &cli.Command{
		Name:  "tihai",
		Usage: "where a tihai must start to land on sam, or which tihais start from a matra",
		Flags: []cli.Flag{
			&cli.StringFlag{Name: "tala", Usage: "the `TALA` it is in", Value: "teental", DefaultText: "teental"},
			&cli.StringFlag{Name: "phrase", Usage: "`MATRAS` of its phrase, such as 5 or 5/2"},
			&cli.StringFlag{Name: "gap", Usage: "`MATRAS` of its gaps", Value: "0", DefaultText: "0"},
			&cli.StringFlag{Name: "last", Usage: "`MATRAS` of its last stroke; 0 when the phrase is over before sam", Value: "1", DefaultText: "1"},
			&cli.StringFlag{Name: "bols", Usage: "its `BOLS`, instead of phrase and gap"},
			&cli.StringFlag{Name: "from", Usage: "find every tihai that starts on that `MATRA`"},
			&cli.StringFlag{Name: "cycles", Usage: "land within that many `CYCLES`, with --from", Value: "2", DefaultText: "2"},
			signsFlag(),
		},
		Action: d.with(reads, runTihai),
	}
}

// longestPhrase is the most matras that a phrase or a gap may be asked for.
const longestPhrase = 128

func runTihai(k *call) error {
	asked := 0
	for _, flag := range []string{"phrase", "bols", "from"} {
		if k.IsSet(flag) {
			asked++
		}
	}
	if asked != 1 {
		return misuse("a tihai needs one of --phrase, --bols and --from").trying("dohra tihai --tala teental --phrase 5 --gap 1")
	}
	tala, err := k.findTala(k.String("tala"))
	if err != nil {
		return err
	}
	switch {
	case k.IsSet("bols"):
		return tihaiOfBols(k, tala)
	case k.IsSet("from"):
		return tihaisFrom(k, tala)
	}
	return tihaiOfPhrase(k, tala)
}

// matraFlag reads a flag that counts matras.
func (k *call) matraFlag(flag string) (*big.Rat, error) {
	n, err := repertoire.ParseCount(k.String(flag), longestPhrase)
	if err != nil {
		return nil, refuse("--%s: %v", flag, err)
	}
	return n, nil
}

func tihaiOfPhrase(k *call, tala repertoire.Tala) (err error) {
	var t repertoire.Tihai
	for flag, count := range map[string]**big.Rat{"phrase": &t.Phrase, "gap": &t.Gap, "last": &t.Last} {
		if *count, err = k.matraFlag(flag); err != nil {
			return err
		}
	}
	if t.Phrase.Sign() == 0 || t.Phrase.Cmp(t.Last) < 0 {
		return refuse("a phrase of %s matras cannot end in a stroke of %s", repertoire.Count(t.Phrase), repertoire.Count(t.Last))
	}
	signs, err := k.signs()
	if err != nil {
		return err
	}
	start := t.StartsAfter(tala.Matras())
	return printTihai(k, tala, t, start, repertoire.LayOutTihai(tala, t, start, signs), "")
}

func tihaiOfBols(k *call, tala repertoire.Tala) error {
	n, err := repertoire.ReadBols(k.String("bols"))
	if err != nil {
		return refuse("the bols: %v", err)
	}
	signs, err := k.signs()
	if err != nil {
		return err
	}
	t, form := repertoire.FindTihai(n)
	if form == repertoire.NoTihai {
		return refuse("no phrase stands three times in it at equal distances")
	}
	start := t.StartsAfter(tala.Matras())
	slots := repertoire.LayOut(tala, n, start, big.NewRat(1, 1), signs)
	return printTihai(k, tala, t, start, slots, form.String())
}

// printTihai writes the measure of a tihai and lays it out over the cycles.
func printTihai(k *call, tala repertoire.Tala, t repertoire.Tihai, start *big.Rat, slots []repertoire.Slot, form string) error {
	if k.page.format == "csv" {
		return k.page.print(slotTable(slots))
	}
	facts := table{columns: []column{{key: "fact", head: "fact"}, {key: "value", head: "value"}}}
	if form != "" {
		facts.add("form", form)
	}
	facts.add("phrase", repertoire.Matras(t.Phrase))
	facts.add("gap", repertoire.Matras(t.Gap))
	facts.add("total", repertoire.Matras(t.Total()))
	facts.add("to sam", repertoire.Matras(t.ToSam()))
	facts.add("starts", repertoire.Place(start))
	facts.add("lands", fmt.Sprintf("on the sam of %s, %s", tala.Name, cyclesLater(start, t.ToSam(), tala.Matras())))
	if start.Sign() != 0 {
		facts.add("from sam", fmt.Sprintf("with gaps of %s instead", repertoire.Matras(t.Mend(tala.Matras()))))
	}
	switch k.page.format {
	case "json":
		return k.page.json(struct {
			Tala   string `json:"tala"`
			Form   string `json:"form"`
			Phrase string `json:"phrase"`
			Gap    string `json:"gap"`
			Last   string `json:"last"`
			Total  string `json:"total"`
			ToSam  string `json:"to_sam"`
			Starts string `json:"starts_after"`
			Layout table  `json:"layout"`
		}{tala.Name, form, t.Phrase.RatString(), t.Gap.RatString(), t.Last.RatString(), t.Total().RatString(),
			t.ToSam().RatString(), start.RatString(), slotTable(slots)})
	case "table":
		for _, row := range facts.rows {
			k.say("%-9s %s", row[0], row[1])
		}
		k.say("")
		return k.page.printSlots(slots)
	}
	if err := k.page.print(facts); err != nil {
		return err
	}
	k.page.block("")
	return k.page.print(slotTable(slots))
}

// cyclesLater says in which cycle a tihai lands.
func cyclesLater(start, toSam *big.Rat, tala int) string {
	end := new(big.Rat).Add(start, toSam)
	cycles := new(big.Rat).Quo(end, big.NewRat(int64(tala), 1))
	if cycles.IsInt() && cycles.Num().Int64() == 1 {
		return "the next"
	}
	return fmt.Sprintf("%s cycles after the one it starts from", cycles.RatString())
}

func tihaisFrom(k *call, tala repertoire.Tala) error {
	matra, err := number(k.Context, "from")
	if err != nil {
		return err
	}
	cycles, err := number(k.Context, "cycles")
	if err != nil {
		return err
	}
	switch {
	case matra < 1 || matra > tala.Matras():
		return refuse("matra %d is outside 1 to %d", matra, tala.Matras())
	case cycles < 1 || cycles > 8:
		return refuse("cycles %d are outside 1 to 8", cycles)
	}
	last, err := k.matraFlag("last")
	if err != nil {
		return err
	}
	t := table{columns: []column{
		{key: "cycles", head: "cycles", right: true},
		{key: "phrase", head: "phrase, matras", right: true},
		{key: "gap", head: "gap, matras", right: true},
		{key: "to_sam", head: "to sam, matras", right: true},
	}}
	for _, s := range repertoire.SolveFrom(tala.Matras(), matra, last, cycles) {
		t.add(s.Cycles, repertoire.Count(s.Phrase), repertoire.Count(s.Gap), repertoire.Count(s.ToSam()))
	}
	if k.page.format == "table" {
		if len(t.rows) == 0 {
			k.say("No tihai in quarters of a matra starts on matra %d and lands within %s.", matra, plural(cycles, "cycle"))
			return nil
		}
		k.say("Tihais in %s that start on matra %d and land on sam.\nThe last stroke takes %s.\n", tala.Name, matra, repertoire.Matras(last))
	}
	return k.page.print(t)
}
