// Package record is the screen of the track record: how the bands have done on the shop's own sales, what
// moves the price, and what was believed before any sale.
package record

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/lang"
	"fyne.io/fyne/v2/theme"

	"skegworth/app/look"
	"skegworth/app/picture"
	"skegworth/app/shop"
	"skegworth/app/widgets"
)

// pictureHeight is how high a picture is, at 100 %.
const pictureHeight = 260

// Screen answers for the bands.
type Screen struct {
	shop  *shop.Shop
	host  widgets.Host
	frame *widgets.Frame

	track    *picture.TrackPicture
	levels   *picture.LevelPicture
	pictures *fyne.Container

	levelRoom *fyne.Container // of the picture of levels

	coverage *coveragePart
	tenths   *tenthsPart
	ratios   *ratioPart
	effects  *effectsPart
	sales    *salesPart
	prior    *priorPart
	anchor   *anchorPart
	how      *howPart

	bare bool // nothing is sold yet, and the screen is laid out for that
}

// New makes the screen.
func New(s *shop.Shop, host widgets.Host) *Screen {
	p := &Screen{shop: s, host: host, frame: widgets.NewFrame(nil), track: picture.NewTrackPicture(s.Currency()), levels: picture.NewLevelPicture()}
	p.levelRoom = widgets.Tall(pictureHeight, p.levels)
	p.pictures = widgets.Columns(400, 2, look.Wide, widgets.Tall(pictureHeight, p.track), p.levelRoom)
	p.coverage, p.tenths, p.ratios = newCoveragePart(p), newTenthsPart(), newRatioPart(p)
	p.effects, p.sales = newEffectsPart(p), newSalesPart(p)
	p.prior, p.anchor, p.how = newPriorPart(p), newAnchorPart(p), newHowPart()
	p.track.OnPick = p.Show
	p.layFull()
	return p
}

// layFull is the screen over sales.
func (p *Screen) layFull() {
	p.frame.SetActions(widgets.NewButton(lang.X("record.sold", "Open the sales"), theme.ListIcon(), func() { p.host.Go(widgets.SoldScreen, p.sales.chosen()) }))
	p.frame.SetWorking(p.pictures, p.coverage.fold, p.tenths.fold, p.effects.fold, p.ratios.fold, p.sales.fold, p.prior.fold, p.anchor.fold, p.how.fold)
}

// layBare is the screen before the first sale: what to do next, and what the bands rest on until then.
func (p *Screen) layBare() {
	p.frame.SetActions(
		widgets.NewMainButton(lang.X("record.begin", "Take past sales in"), theme.FolderOpenIcon(), func() { p.host.Go(widgets.SoldScreen, "") }),
		widgets.NewButton(lang.X("app.example", "Open the example shop"), nil, p.host.OpenExample))
	p.frame.SetWorking(p.anchor.fold, p.prior.fold, p.how.fold)
	p.anchor.fold.SetOpen(true)
}

// Content implements widgets.Screen.
func (p *Screen) Content() fyne.CanvasObject { return p.frame }

// Refresh implements widgets.Screen.
func (p *Screen) Refresh() {
	a, err := p.shop.TrackRecord()
	if err != nil {
		p.host.Failed(err)
		return
	}
	p.frame.Update(func() {
		bare := len(a.Track.Rows) == 0
		if bare != p.bare {
			if p.bare = bare; bare {
				p.layBare()
			} else {
				p.layFull()
			}
		}
		p.frame.SetAnswer(widgets.Say(a.Answer))
		p.prior.show(a)
		p.anchor.show(a)
		p.how.show(p.shop.Settings())
		if bare {
			p.frame.SetSecond(lang.X("record.bare", "Each sale is held against the band that the other sales would have given it. Until there are some, every band rests on the trade prior below, and is wide."))
			p.frame.SetWarnings(nil)
			return
		}
		p.frame.SetSecond(widgets.Say(a.Second))
		p.frame.SetWarnings(a.Track.Warnings)
		p.showTrack(a)
		p.coverage.show(a)
		p.tenths.show(a)
		p.ratios.show(a)
		p.effects.show(a)
		p.sales.show(a)
	})
}

func (p *Screen) showTrack(a shop.RecordAnswer) {
	sales := make([]picture.TrackSale, len(a.Track.Rows))
	for i, r := range a.Track.Rows {
		sales[i] = picture.TrackSale{ID: r.Sale.ID, Name: r.Sale.Motor.Name(), Sold: r.Sale.Sold, Price: r.Sale.Price, Low: r.Low, Mid: r.Mid, High: r.High, Inside: r.Inside}
	}
	p.track.SetSales(sales)
	levels := make([]picture.Level, len(a.Track.Coverage))
	for i, c := range a.Track.Coverage {
		levels[i] = picture.Level{Level: c.Level, Achieved: c.Achieved, Count: c.Count}
	}
	p.levels.SetLevels(levels)
	p.levelRoom.Hidden = a.Few
}

// Show implements widgets.Screen: the sale with the id is marked in the picture and in the list, or the
// trade prior opened.
func (p *Screen) Show(id string) {
	if id == widgets.PriorPart {
		p.prior.fold.SetOpen(true)
		p.frame.Reveal(p.prior.fold)
		return
	}
	if p.sales.table.Select(id) {
		p.track.Choose(id)
		p.sales.fold.SetOpen(true)
	}
}
