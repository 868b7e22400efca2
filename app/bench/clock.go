package bench

import (
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// longRun is how long the clock runs before it asks whether somebody forgot it.
const longRun = 2 * costing.Hour

// clockPart is the big start and stop button, and the quick ways to write down time.
type clockPart struct {
	p       *Screen
	content *fyne.Container
	task    *widgets.Entry
	field   *widgets.Field
	shown   *widgets.Text
	asked   *widgets.Text
	button  *widgets.Button // starts and stops: one button, so that the keyboard stays on it
	ticks   *time.Ticker
	done    chan struct{}
}

func newClockPart(p *Screen) *clockPart {
	c := &clockPart{p: p, task: widgets.NewEntry(), shown: widgets.NewAnswer(""), asked: widgets.NewText("")}
	c.button = widgets.NewMainButton(c.start(), theme.MediaPlayIcon(), c.press)
	c.task.SetPlaceHolder(lang.X("bench.task.example", "carburettors"))
	c.field = widgets.NewField(lang.X("bench.task", "Own time on"), c.task)
	quick := func(words string, t costing.Hours) fyne.CanvasObject {
		return widgets.NewButton(words, nil, func() { c.addTime(t) })
	}
	c.content = widgets.Column(look.Gap, c.field, c.shown, c.asked,
		widgets.Flow(look.Gap, c.button,
			quick(lang.X("bench.plus15", "+15 min"), 15), quick(lang.X("bench.plus30", "+30 min"), 30), quick(lang.X("bench.plus60", "+1 h"), 60)))
	if p.host.Window() != nil {
		c.ticks, c.done = time.NewTicker(10*time.Second), make(chan struct{})
		go c.tick(c.ticks.C, c.done)
	}
	return c
}

func (c *clockPart) tick(ticks <-chan time.Time, done <-chan struct{}) {
	for {
		select {
		case <-done:
			return
		case <-ticks:
			fyne.Do(c.showTime)
		}
	}
}

func (c *clockPart) stop() {
	if c.ticks != nil {
		c.ticks.Stop()
		close(c.done)
		c.ticks = nil
	}
}

func (c *clockPart) addTime(t costing.Hours) {
	c.field.SetProblem(c.p.shop.SaveSession(costing.Session{MotorID: c.p.chosen, Time: t, Task: c.task.Text}))
}

// here tells whether the clock runs on the motor on show.
func (c *clockPart) here() bool {
	running := c.p.shop.Clock()
	return running.Running() && running.MotorID == c.p.chosen
}

func (c *clockPart) start() string { return lang.X("bench.start", "Start the clock") }

func (c *clockPart) press() {
	if c.here() {
		c.field.SetProblem(c.p.shop.StopClock())
		return
	}
	c.field.SetProblem(c.p.shop.StartClock(c.p.chosen, c.task.Text))
}

func (c *clockPart) show() {
	words, icon := c.start(), theme.MediaPlayIcon()
	if c.here() {
		words, icon = lang.X("bench.stop", "Stop the clock"), theme.MediaStopIcon()
	}
	if c.button.Text != words {
		c.button.Text, c.button.Icon = words, icon
		c.button.Refresh()
	}
	c.showTime()
}

// showTime moves the clock's hand.
func (c *clockPart) showTime() {
	running := c.p.shop.Clock()
	words, asked := "", ""
	if running.Running() {
		elapsed := c.p.shop.Elapsed()
		words = fmt.Sprintf("%d:%02d", elapsed/costing.Hour, elapsed%costing.Hour)
		if running.MotorID != c.p.chosen {
			if r, err := c.p.shop.Record(running.MotorID); err == nil {
				words = lang.X("bench.elsewhere", "The clock runs on {{.Motor}}: {{.Time}}. Starting it here stops it there.", map[string]any{"Motor": r.Name(), "Time": words})
			}
		} else if running.Task != "" {
			words += "  " + running.Task
		}
		if elapsed >= longRun {
			asked = lang.X("bench.still", "Still at it? It has run {{.Hours}} h. If not, stop it and mend the hours below.", map[string]any{"Hours": elapsed.String()})
		}
	}
	c.shown.Hidden, c.asked.Hidden = words == "", asked == ""
	c.shown.SetText(words)
	c.asked.SetText(asked)
	c.p.frame.Reflow()
}
