package repertoire

import (
	"strings"
	"sync"
)

// The bols: what each is called, which hands play it, and how players write it.
// Hands and spellings are common practice, no source; schools differ in detail.

// A Hand says what one hand does in a stroke.
type Hand int

const (
	Silent Hand = iota
	Closed      // damped
	Open        // left to ring
)

var hands = [...]string{"silent", "closed", "open"}

// String returns the word for h.
func (h Hand) String() string { return hands[h] }

// A Stroke is one bol that is struck once. Name is its Latin name here; two
// spellings of one stroke have one Name.
type Stroke struct {
	Name         string
	Dayan, Bayan Hand   // the right drum and the left
	Khali        string // its name when the bayan is closed
	Latin        string // spellings, the first is the one that is printed
	Devanagari   string
}

// Strokes are the single strokes. Double vowels need no spelling of their own:
// dhaa reads as dha, dheen as dhin, too as tu.
var Strokes = []Stroke{
	// both hands
	{"dha", Open, Open, "ta", "dha dhah dhan", "धा ध धां"},
	{"dhin", Open, Open, "tin", "dhin dhi dhim dhing dhinn", "धिं धि धी धीं धिन् धीन् धिम्"},
	{"dhe", Closed, Open, "te", "dhe", "धे"},
	{"dhet", Closed, Open, "tet", "dhet dhett dhat", "धेत् धेत धेट् धित् धत्"},
	{"dhum", Open, Open, "tu", "dhum dhun dhu", "धूम धुम धूम् धुम् धूं धुं धुन् धु धू"},
	{"dhra", Open, Open, "tra", "dhra ghra gra dhran ghran gran kdha krdha", "ध्रा घ्रा ग्रा ध्र घ्र ग्र ध्रां घ्रां ग्रां ध्रान् घ्रान् ग्रान् क्धा"},
	{"kra", Open, Closed, "kra", "kra kda kre kran kdan kada kad", "क्रा क्र क्ड क्डा क्रे कड कडा क्रां क्डां क्रान् क्डान् कडां"},
	// the right hand alone
	{"na", Open, Silent, "na", "na nah nan", "ना न नां"},
	{"ta", Open, Silent, "ta", "ta tah tan tha", "ता त तां था"},
	{"tin", Open, Silent, "tin", "tin tim ting tinn", "तिं तीं तिन् तीन् तिम्"},
	{"tu", Open, Silent, "tu", "tu tun thun tum tung thu", "तू तु तूं तुं थूं थुं तून् तुन् थुन् थु थू"},
	{"di", Open, Silent, "di", "di din ding", "दि दी दिं दीं दिन् दीन्"},
	{"te", Closed, Silent, "te", "te ti", "ते ति ती ट टे टि टी"},
	{"re", Closed, Silent, "re", "re ra ri", "रे र रि री रा"},
	{"tet", Closed, Silent, "tet", "tet tat", "तेत् तित् टेट् तेत तत्"},
	{"tra", Open, Silent, "tra", "tra tre tran", "त्रा त्र त्रे त्रां त्रान्"},
	{"la", Closed, Silent, "la", "la lan", "ला लां ल"},
	// the left hand alone
	{"ge", Silent, Open, "ke", "ge ghe gi ga ghi gha ghin gin", "गे ग गि गी घे घि घ गा घा गें घें गिं घिं घीं गिन् घिन्"},
	{"ke", Silent, Closed, "ke", "ke ka ki kha khe kin", "के क कि की का खे किन् किं कें कां"},
	{"kat", Silent, Closed, "kat", "kat kath khat", "कत् कट् कात् कत्त्"},
}

// A Phrase is strokes written as one word that does not read, or is not always
// written, as the names of its strokes: the ta of tirakita is the closed te,
// not the open ta.
type Phrase struct {
	Strokes    string // names
	Latin      string // as its strokes are printed one by one
	Devanagari string
	Spellings  string // in both scripts
}

// Phrases are the words of several strokes.
var Phrases = []Phrase{
	{"te re ke te", "ti ra ki ta", "ति र कि ट", "tirakita tirikita tirakit tirikit tirkit tirkita terekete terekita tereketa tarikita " +
		"terkit terkete trakit trakita trekete trekite trikit trikita trkt तिरकिट तिरकीट तेरेकेटे तेरेकिट तिरिकिट त्रकिट त्रिकिट त्रेकिटे तृकिट"},
	{"dhe re ke te", "dhi ra ki ta", "धि र कि ट", "dhirakita dhirikita dhirkit dhirkita dherekete dherekita धिरकिट धेरेकेटे धिरिकिट"},
	{"te re", "ti ra", "ति र", "tira tiri tere tir ter तिर तिरि तेरे"},
	{"dhe re", "dhe re", "धे रे", "dhira dhiri dhere dhir dher धिर धिरि धेरे"},
	{"ge re", "ghe re", "घे रे", "ghere ghir ghira gher घिर घेर घेरे"},
	{"ke te", "ki ta", "कि ट", "kita kit kite kiti kete keta किट किटे केटे कीट"},
	{"te te", "ti ta", "ति ट", "tita teta titi tete tite teti tit तिट तेटे तेट तीट टिट"},
	{"dhe te", "dhi ta", "धि ट", "dhita dhite dhiti dheta dhete dhit धिट धिटे धेट धेटे धेते"},
	{"dhum te ke te", "dhu ma ki ta", "धू म कि ट", "dhumakita dhumkita dhumakit dhumkit dhumakite धूमकिट धुमकिट धुमाकिट धूमाकिट"},
	{"tu te ke te", "thu ma ki ta", "थु म कि ट", "thumakita thumkita thumkit tumakita tumkit थुमकिट ठुमकिट तुमकिट"},
	{"ta ke", "ta ka", "त क", "taka tak take taki takka तक ताक ताके तके तक् ताक् तक्का"},
	{"tra ke", "tra ka", "त्र क", "traka trak त्रक त्राक तृक"},
	{"ta ke te", "ta ki ta", "त कि ट", "takita takit takite तकिट ताकिट"},
	{"te re ke te ta ke", "ti ra ki ta ta ka", "ति र कि ट त क", "tirkittak tirakitatak तिरकिटतक"},
	{"ke te ta ke", "ki ta ta ka", "कि ट त क", "kitataka kitatak kittak kitatake किटतक कीटतक"},
	{"ge di ge na", "ga di ga na", "ग दि ग न", "gadigana gadigina gadigena gadigan gaddigana gidigana gadigene gadighene " +
		"गदिगन गदिगिन गदीगन गद्दीगन गद्दिगन गदिगना गदिगेने गदिघेने"},
	{"ge di na ge", "ghi da na ga", "घि ड न ग", "ghidanaga ghidanag ghidnag gidanaga gidnag घिडनग धिडनग गिडनग"},
	{"ke te na ge", "ki da na ga", "कि ड न ग", "kidanaga kidanag kidnag किडनग"},
	{"ke te na ke", "ki da na ka", "कि ड न क", "kidanaka kidanak kidnak किडनक"},
	{"ge tra", "ghi dan", "घि डान", "ghidan ghedan ghadan घिडान घेडान घडान"},
	{"ke tra", "ki dan", "कि डान", "kidan kedan किडान केडान"},
	{"dha tra", "dha dan", "ध डान", "dhadan धडान"},
	{"dhin na", "dhi na", "धि न", "dhina धिन धिना धीना"},
	{"tin na", "ti na", "ति न", "tina तिन तिना तीना"},
	{"ge na", "gi na", "गि न", "gina gena gen ghena ghina gana ginna gene ghene गिन गेन गेना गिना घेना गन गेने घेने गिन्ना"},
	{"ke na", "ki na", "कि न", "kina kena ken kana kinna kene किन केन केना किना केने किन्ना"},
	{"dhin na", "dhin na", "धिं ना", "धिन्ना"},
	{"tin na", "tin na", "तिं ना", "तिन्ना"},
	{"na ge", "na ga", "न ग", "nag naga नग"},
	{"na ke", "na ka", "न क", "nak naka नक"},
	{"dhin na ke", "dhi na ka", "धि न क", "dhinak dhinaka धिनक"},
	{"tin na ke", "ti na ka", "ति न क", "tinak tinaka तिनक"},
	{"dha ge", "dha ga", "धा ग", "dhag धाग"},
	{"di ge", "di ga", "दि ग", "dig दिग"},
	{"la ge", "la ga", "ला ग", "lang लांग"},
}

// alone are spellings that are another stroke when they are a whole group: the
// inherent vowel of their last letter is not spoken. See also context.go.
var alone = map[string]string{
	"कत": "kat", "धिन": "dhin", "धीन": "dhin", "तिन": "tin", "तीन": "tin", "तुन": "tu", "तून": "tu", "थुन": "tu", "दिन": "di",
	"दीन": "di", "क्रान": "kra", "क्डान": "kra", "ग्रान": "dhra", "घ्रान": "dhra", "ध्रान": "dhra", "त्रान": "tra",
}

// A sound is what a spelling reads as: strokes, and how each is printed.
type sound struct {
	strokes []*Stroke
	printed []string
}

// A lexicon holds every spelling.
type lexicon struct {
	sounds  map[string]sound
	byName  map[string]*Stroke
	alone   map[string]sound
	longest int // bytes
}

// theLexicon is built when bols are first read.
var theLexicon = sync.OnceValue(func() *lexicon {
	lex := &lexicon{sounds: map[string]sound{}, byName: map[string]*Stroke{}, alone: map[string]sound{}}
	for i := range Strokes {
		lex.byName[Strokes[i].Name] = &Strokes[i]
	}
	for i := range Strokes {
		s := &Strokes[i]
		for _, spelling := range strings.Fields(s.Latin + " " + s.Devanagari) {
			lex.learn(spelling, sound{[]*Stroke{s}, []string{spelling}})
		}
	}
	for _, p := range Phrases {
		for _, spelling := range strings.Fields(p.Spellings) {
			strokes := lex.strokes(p.Strokes)
			lex.learn(spelling, sound{strokes, lex.printedAs(p, spelling, len(strokes))})
		}
	}
	for group, names := range alone {
		strokes := lex.strokes(names)
		printed := make([]string, len(strokes))
		for i, s := range strokes {
			printed[i] = group
			if len(strokes) > 1 {
				printed[i] = s.printed(group)
			}
		}
		lex.alone[plainBols(group)] = sound{strokes, printed}
	}
	return lex
})

// printedAs parts the spelling of a phrase into its syllables, or returns the
// phrase's own where the spelling leaves vowels out.
func (lex *lexicon) printedAs(p Phrase, spelling string, n int) []string {
	if parts, ok := lex.parted(spelling, n); ok {
		return parts
	}
	if isDevanagari(spelling) {
		return strings.Fields(p.Devanagari)
	}
	return strings.Fields(p.Latin)
}

// parted parts a word into n spellings of single strokes.
func (lex *lexicon) parted(word string, n int) ([]string, bool) {
	if n == 0 || word == "" {
		return nil, n == 0 && word == ""
	}
	for end := range word {
		if end == 0 || combines(word[end:]) {
			continue
		}
		if rest, ok := lex.parted(word[end:], n-1); ok && lex.single(word[:end]) {
			return append([]string{word[:end]}, rest...), true
		}
	}
	if n == 1 && lex.single(word) {
		return []string{word}, true
	}
	return nil, false
}

func (lex *lexicon) single(spelling string) bool {
	return len(lex.sounds[plainBols(spelling)].strokes) == 1
}

// learn adds a spelling; the first to claim one keeps it, so single strokes go
// before phrases.
func (lex *lexicon) learn(spelling string, s sound) {
	plain := plainBols(spelling)
	if _, known := lex.sounds[plain]; known {
		return
	}
	lex.sounds[plain] = s
	lex.longest = max(lex.longest, len(plain))
}

func (lex *lexicon) strokes(names string) []*Stroke {
	var strokes []*Stroke
	for _, name := range strings.Fields(names) {
		s, ok := lex.byName[name]
		if !ok {
			panic("no stroke is named " + name)
		}
		strokes = append(strokes, s)
	}
	return strokes
}

// printed returns the first spelling of the stroke in the script of text.
func (s *Stroke) printed(text string) string {
	if isDevanagari(text) {
		return strings.Fields(s.Devanagari)[0]
	}
	return strings.Fields(s.Latin)[0]
}

// isDevanagari reports whether text holds a letter of that script.
func isDevanagari(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool { return r >= '\u0900' && r <= '\u097f' && r != 'ऽ' })
}

// doubled are long vowels as they are written twice.
var doubled = strings.NewReplacer("aa", "a", "ee", "i", "ii", "i", "oo", "u", "uu", "u")

// plainBols returns bols without capitals, Latin diacritics, the marks that
// only join letters, and double vowels. Candrabindu reads as anusvara, and the
// dotted letters as the plain ones.
func plainBols(text string) string {
	text = doubled.Replace(Fold(text))
	return strings.Map(func(r rune) rune {
		switch r {
		case '\u200c', '\u200d', '\u093c':
			return -1
		case '\u0901':
			return '\u0902'
		}
		return r
	}, text)
}
