package main

import (
	"fmt"
	"io"
	"strings"

	draw "github.com/go-analyze/charts/chartdraw"
	"github.com/go-analyze/charts/chartdraw/drawing"
	"github.com/urfave/cli/v2"

	"dohra/repertoire"
	"dohra/schedule"
)

// The charts as pictures. They are black on white, and tell by shape what the
// terminal tells by letters; the goal's line is pale, so that plays on it are seen.

func pictureFlags() []cli.Flag {
	return []cli.Flag{
		&cli.StringFlag{Name: "svg", Usage: "draw the chart into a new `FILE`, as SVG"},
		&cli.StringFlag{Name: "png", Usage: "draw the chart into a new `FILE`, as PNG"},
	}
}

const pictureWidth, pictureHeight = 960, 540

// halfDay is left free on both sides of a picture.
const halfDay = 0.5

// wantsPicture reports whether --svg or --png is given.
func (k *call) wantsPicture() bool { return k.IsSet("svg") || k.IsSet("png") }

// drawPictures writes the files that --svg and --png name.
func (k *call) drawPictures(chart draw.Chart) error {
	for _, kind := range []struct {
		flag     string
		renderer draw.RendererProvider
	}{{"svg", draw.SVG}, {"png", draw.PNG}} {
		if !k.IsSet(kind.flag) {
			continue
		}
		draw := func(w io.Writer) error { return chart.Render(kind.renderer, w) }
		if err := writeNew(k.String(kind.flag), draw); err != nil {
			return err
		}
		k.say("Drawn: %s", k.String(kind.flag))
	}
	return nil
}

// drawable returns text, or otherwise where the font of the pictures lacks one
// of its letters, as it does those of Devanagari.
func drawable(text, otherwise string) string {
	font := draw.GetDefaultFont()
	if strings.ContainsFunc(text, func(r rune) bool { return font.Index(r) == 0 }) {
		return otherwise
	}
	return text
}

// frame is a picture whose bottom edge runs from one day to another, with at most
// six dates, of days that are a multiple of step after the first.
func frame(title, below, unit string, s scale, step repertoire.Day, series ...draw.Series) draw.Chart {
	ticks := []draw.Tick{{Value: float64(s.from) - halfDay}}
	apart := step * max(1, ((s.to-s.from)/step+4)/5)
	for day := s.from; day <= s.to; day += apart {
		ticks = append(ticks, draw.Tick{Value: float64(day), Label: day.String()})
	}
	ticks = append(ticks, draw.Tick{Value: float64(s.to) + halfDay})
	return draw.Chart{
		Title: title, TitleStyle: draw.Style{FontStyle: draw.FontStyle{FontSize: 12}},
		Width: pictureWidth, Height: pictureHeight,
		Background: draw.Style{Padding: draw.NewBox(50, 30, 30, 20)},
		XAxis:      draw.XAxis{Name: below, Ticks: ticks}, // the axis runs from the first tick to the last
		YAxis: draw.YAxis{
			Name:           unit,
			ValueFormatter: func(v any) string { return fmt.Sprintf("%.0f", v) },
			Range:          &draw.ContinuousRange{Min: float64(s.low), Max: float64(s.top)},
		},
		YAxisSecondary: draw.HideYAxis(),
		Series:         series,
	}
}

// tempoPicture is tempoChart as a picture.
func tempoPicture(title string, plays []schedule.Play, goal int, until repertoire.Day) draw.Chart {
	s := scaleOf(plays, goal, until)
	s.to = max(s.to, s.from+1)
	goalLine := draw.ContinuousSeries{
		Style:   draw.Style{StrokeColor: drawing.ColorSilver, StrokeWidth: 1, StrokeDashArray: []float64{6, 4}},
		XValues: []float64{float64(s.from) - halfDay, float64(s.to) + halfDay}, YValues: []float64{float64(goal), float64(goal)},
	}
	const round = 10 // matras/min, between the plays and the edges
	s.low, s.top = (s.low-1)/round*round, (s.top/round+1)*round
	return frame(title, "disc: clear; cross: not clear; dashes: goal", "matras/min", s, 1, goalLine, marks(func(r draw.Renderer, at spot) {
		for _, p := range plays {
			drawPlay(r, at(p.Day, p.Tempo), p.Clarity >= schedule.Clear)
		}
	}))
}

// minutesPicture is a bar for each week, as high as the minutes logged, or as
// the plays where no minutes were.
func minutesPicture(r review) draw.Chart {
	unit, height := "min", func(w weekReview) int { return w.all.minutes }
	if r.total().minutes == 0 {
		unit, height = "plays", func(w weekReview) int { return w.all.plays }
	}
	const round = 50
	s := scale{from: r.weeks[0].monday, to: r.weeks[len(r.weeks)-1].monday + 6}
	for _, w := range r.weeks {
		s.top = max(s.top, (height(w)/round+1)*round)
	}
	return frame(r.headline(), "a bar a week, from Monday", unit, s, 7, marks(func(d draw.Renderer, at spot) {
		for _, w := range r.weeks {
			drawBar(d, at(w.monday, height(w)), at(w.monday+6, 0))
		}
	}))
}

// A place on a picture, and what finds it for a day and a number.
type (
	dot  struct{ x, y int }
	spot func(repertoire.Day, int) dot
)

// marks is what draws itself on a frame.
type marks func(draw.Renderer, spot)

func (marks) GetName() string          { return "" }
func (marks) GetYAxis() draw.YAxisType { return draw.YAxisPrimary }
func (marks) GetStyle() draw.Style     { return draw.Style{} }
func (marks) Validate() error          { return nil }

// Render implements draw.Series.
func (m marks) Render(r draw.Renderer, box draw.Box, x, y draw.Range, _ draw.Style) {
	r.SetStrokeColor(drawing.ColorBlack)
	r.SetFillColor(drawing.ColorBlack)
	r.SetStrokeWidth(1.5)
	r.SetStrokeDashArray(nil)
	m(r, func(day repertoire.Day, n int) dot {
		return dot{box.Left + x.Translate(float64(day)), box.Bottom - y.Translate(float64(n))}
	})
}

// drawPlay draws a disc for a clear play, a cross for another.
func drawPlay(r draw.Renderer, at dot, isClear bool) {
	const size = 5
	if isClear {
		r.Circle(size, at.x, at.y)
		r.FillStroke()
		return
	}
	r.MoveTo(at.x-size, at.y-size)
	r.LineTo(at.x+size, at.y+size)
	r.MoveTo(at.x-size, at.y+size)
	r.LineTo(at.x+size, at.y-size)
	r.Stroke()
}

func drawBar(r draw.Renderer, a, b dot) {
	r.MoveTo(a.x, a.y)
	r.LineTo(b.x, a.y)
	r.LineTo(b.x, b.y)
	r.LineTo(a.x, b.y)
	r.Close()
	r.Fill()
}
