package bench

import (
	"fmt"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/shop"
	"skegworth/app/widgets"
	"skegworth/costing"
)

// clockPart is the big start and stop button, and the quick ways to write down time.
type clockPart struct {
	p       *Screen
	content *fyne.Container
	task    *widgets.Entry
	field   *widgets.Field
	whose   *widgets.Segments
	rate    *widgets.MoneyEntry
	pay     *widgets.Field // of somebody who is paid
	shown   *widgets.Text
	button  *widgets.Button // starts and stops: one button, so that the keyboard stays on it

	asked     *fyne.Container // whether somebody forgot it
	question  *widgets.Text
	stoppedAt *widgets.Entry
	stopped   *widgets.Field

	ticks *time.Ticker
	done  chan struct{}
}

const (
	ownTime  = "own"
	paidTime = "paid"
)

func newClockPart(p *Screen) *clockPart {
	c := &clockPart{p: p, task: widgets.NewEntry(), shown: widgets.NewAnswer(""), question: widgets.NewText(""),
		stoppedAt: widgets.NewEntry(), rate: widgets.NewMoneyEntry(p.shop.Currency())}
	c.button = widgets.NewMainButton(c.start(), theme.MediaPlayIcon(), c.press)
	c.task.SetPlaceHolder(lang.X("bench.task.example", "carburettors"))
	c.field = widgets.NewField(lang.X("bench.task", "Time on"), c.task)
	c.whose = widgets.NewSegments(widgets.Option{Value: ownTime, Text: lang.X("bench.own", "own")}, widgets.Option{Value: paidTime, Text: lang.X("bench.paid", "paid")})
	c.whose.Required = true
	c.whose.SetValue(ownTime)
	c.whose.OnValue = func(v string) error {
		c.pay.Hidden = v != paidTime
		p.frame.Reflow()
		return nil
	}
	c.pay = widgets.NewField(lang.X("bench.paidrate", "Paid per hour"), c.rate)
	c.pay.Hidden = true
	quick := func(words string, t costing.Hours) fyne.CanvasObject {
		return widgets.NewButton(words, nil, func() { c.addTime(t) })
	}
	c.stoppedAt.SetPlaceHolder(lang.X("bench.stopat.example", "16:30"))
	c.stopped = widgets.NewField(lang.X("bench.stopat", "No, it ended at"), c.stoppedAt)
	c.stoppedAt.OnSubmit = func(string) { c.stopThen() }
	c.asked = widgets.Column(look.Gap, c.question, widgets.Columns(190, 3, look.Gap,
		widgets.NewField(" ", widgets.NewMainButton(lang.X("bench.still.yes", "Yes, keep it running"), nil, func() { c.p.host.Failed(c.p.shop.KeepClock()) })),
		c.stopped,
		widgets.NewField(" ", widgets.NewButton(lang.X("bench.stopat.do", "Stop it then"), nil, c.stopThen))))
	c.asked.Hidden = true
	c.content = widgets.Column(look.Gap,
		widgets.Columns(190, 3, look.Wide, c.field, widgets.NewField(lang.X("bench.whose", "Whose"), c.whose), c.pay),
		c.shown, c.asked,
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

// stint is what the controls say the time is for.
func (c *clockPart) stint() shop.Stint {
	w := shop.Stint{MotorID: c.p.chosen, Task: c.task.Text, JobID: c.p.add.job.Value(), Paid: c.whose.Value() == paidTime}
	if w.Paid {
		w.Rate = c.rate.Value()
	}
	return w
}

func (c *clockPart) addTime(t costing.Hours) {
	w := c.stint()
	err := c.p.shop.SaveSession(costing.Session{MotorID: w.MotorID, Time: t, Task: w.Task, JobID: w.JobID, Paid: w.Paid, Rate: w.Rate})
	c.field.SetProblem(err)
	if err == nil {
		c.p.host.Status(lang.X("bench.hours.added", "Written down: {{.Hours}}", map[string]any{"Hours": t.Words()}))
	}
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
	c.field.SetProblem(c.p.shop.StartClock(c.stint()))
}

// stopThen stops a clock that was forgotten, as of the time typed.
func (c *clockPart) stopThen() {
	err := c.p.shop.StopClockAt(c.stoppedAt.Text)
	c.stopped.SetProblem(err)
	if err == nil {
		c.stoppedAt.Set("")
	}
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
		name := ""
		if r, err := c.p.shop.Record(running.MotorID); err == nil {
			name = r.Name()
		}
		if running.MotorID != c.p.chosen {
			words = lang.X("bench.elsewhere", "The clock runs on {{.Motor}}: {{.Time}}. Starting it here stops it there.", map[string]any{"Motor": name, "Time": words})
		} else if running.Task != "" {
			words += "  " + running.Task
		}
		if c.p.shop.Forgotten() {
			asked = lang.X("bench.still", "Still at it? The clock has run {{.Hours}} on {{.Motor}}.", map[string]any{"Hours": elapsed.Words(), "Motor": name})
		}
	}
	if c.shown.Text() == words && c.question.Text() == asked && c.asked.Hidden == (asked == "") {
		return
	}
	c.shown.Hidden, c.asked.Hidden = words == "", asked == ""
	c.shown.SetText(words)
	c.question.SetText(asked)
	c.p.frame.Reflow()
}
