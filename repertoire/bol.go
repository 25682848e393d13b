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
	{"dhin", Open, Open, "tin", "dhin dhi dhim dhing", "धिं धि धी धीं धिन् धीन् धिम्"},
	{"dhe", Closed, Open, "te", "dhe", "धे"},
	{"dhet", Closed, Open, "tet", "dhet dhit", "धेत् धेत धेट् धित् धिट्"},
	{"dhum", Open, Open, "tu", "dhum dhun dhu", "धूम धुम धूम् धुम् धूं धुं धुन् धु धू"},
	{"dhra", Open, Open, "tra", "dhra ghra gra dhran ghran gran", "ध्रा घ्रा ग्रा ध्र घ्र ग्र ध्रान् घ्रान् ग्रान्"},
	{"kra", Open, Closed, "kra", "kra kda kre kran kdan kada", "क्रा क्र क्ड क्डा कडा क्रान् क्डान् कडां"},
	// the right hand alone
	{"na", Open, Silent, "na", "na nah nan", "ना न नां"},
	{"ta", Open, Silent, "ta", "ta tah tan tha", "ता त तां था"},
	{"tin", Open, Silent, "tin", "tin tim ting", "तिं तीं तिन् तीन् तिम्"},
	{"tu", Open, Silent, "tu", "tu tun thun tum tung thu", "तू तु तूं तुं थूं थुं तून् तुन् थुन् थु थू"},
	{"di", Open, Silent, "di", "di din ding", "दि दी दिं दीं दिन् दीन्"},
	{"te", Closed, Silent, "te", "te ti", "ते ति ती ट टे टि टी"},
	{"re", Closed, Silent, "re", "re ra ri", "रे र रि री रा"},
	{"tet", Closed, Silent, "tet", "tet", "तेत् तित् टेट् तेत"},
	{"tra", Open, Silent, "tra", "tra tre tran", "त्रा त्र त्रे त्रान्"},
	{"la", Closed, Silent, "la", "la lan", "ला लां ल"},
	// the left hand alone
	{"ge", Silent, Open, "ke", "ge ghe gi ga ghi gha ghin", "गे ग गि गी घे घि घ गा घा गें घीं गिं गिन् घिन्"},
	{"ke", Silent, Closed, "ke", "ke ka ki kha khe", "के क कि की का खे किन् किं कें कां"},
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
		"terkit terkete trakit trakita trekete trkt तिरकिट तिरकीट तेरेकेटे तेरेकिट तिरिकिट त्रकिट त्रिकिट"},
	{"dhe re ke te", "dhi ra ki ta", "धि र कि ट", "dhirakita dhirikita dhirkit dhirkita dherekete dherekita धिरकिट धेरेकेटे धिरिकिट"},
	{"te re", "ti ra", "ति र", "tira tiri tere tir ter तिर तिरि तेरे"},
	{"dhe re", "dhe re", "धे रे", "dhira dhiri dhere dhir dher धिर धिरि धेरे"},
	{"ke te", "ki ta", "कि ट", "kita kit kite kiti kete keta किट किटे केटे कीट"},
	{"te te", "ti ta", "ति ट", "tita teta titi tete tite teti tit तिट तेटे तेट तीट टिट"},
	{"dhe te", "dhi ta", "धि ट", "dhita dhite dhiti dheta dhete धिट धिटे धेट धेटे धेते"},
	{"dhum te ke te", "dhu ma ki ta", "धू म कि ट", "dhumakita dhumkita dhumakit dhumkit dhumakite धूमकिट धुमकिट धुमाकिट धूमाकिट"},
	{"ta ke", "ta ka", "त क", "taka tak take taki तक ताक ताके तके तक् ताक्"},
	{"tra ke", "tra ka", "त्र क", "traka trak त्रक त्राक"},
	{"ta ke te", "ta ki ta", "त कि ट", "takita takit takite तकिट ताकिट"},
	{"te re ke te ta ke", "ti ra ki ta ta ka", "ति र कि ट त क", "tirkittak tirakitatak तिरकिटतक"},
	{"ke te ta ke", "ki ta ta ka", "कि ट त क", "kitataka kitatak kittak kitatake किटतक कीटतक"},
	{"ge di ge na", "ga di ga na", "ग दि ग न", "gadigana gadigina gadigena gadigan gaddigana gidigana गदिगन गदिगिन गदीगन गद्दीगन गदिगना"},
	{"ge di na ge", "ghi da na ga", "घि ड न ग", "ghidanaga ghidanag ghidnag gidanaga घिडनग धिडनग गिडनग"},
	{"ke te na ke", "ki da na ka", "कि ड न क", "kidanaka kidanak kidnak किडनक"},
	{"dhin na", "dhi na", "धि न", "dhina धिन धिना धीना"},
	{"tin na", "ti na", "ति न", "tina तिन तिना तीना"},
	{"ge na", "gi na", "गि न", "gina gin gena gen ghena ghina gana गिन गेन गेना गिना घेना गन"},
	{"ke na", "ki na", "कि न", "kina kin kena ken kana किन केन केना किना"},
}

// alone are spellings that mean something else when they are a whole group.
var alone = map[string]string{
	"कत": "kat", // in a longer word it is ka ta
}

// A sound is what a spelling reads as: strokes, and how each is printed.
type sound struct {
	strokes []*Stroke
	printed []string
}

// A lexicon holds every spelling.
type lexicon struct {
	sounds    map[string]sound
	byName    map[string]*Stroke
	alone     map[string]sound
	longest   int // bytes
	spellings [2]int
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
			printed := p.Latin
			if isDevanagari(spelling) {
				printed = p.Devanagari
			}
			lex.learn(spelling, sound{lex.strokes(p.Strokes), strings.Fields(printed)})
		}
	}
	for group, names := range alone {
		strokes := lex.strokes(names)
		printed := make([]string, len(strokes))
		for i, s := range strokes {
			printed[i] = s.printed(group)
		}
		lex.alone[plainBols(group)] = sound{strokes, printed}
	}
	return lex
})

// learn adds a spelling; the first to claim one keeps it, so single strokes go
// before phrases.
func (lex *lexicon) learn(spelling string, s sound) {
	plain := plainBols(spelling)
	if _, known := lex.sounds[plain]; known {
		return
	}
	lex.sounds[plain] = s
	lex.longest = max(lex.longest, len(plain))
	if isDevanagari(plain) {
		lex.spellings[1]++
	} else {
		lex.spellings[0]++
	}
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

// Spellings returns how many spellings are known in Latin and in Devanagari.
func Spellings() (latin, devanagari int) {
	lex := theLexicon()
	return lex.spellings[0], lex.spellings[1]
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
