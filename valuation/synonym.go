package valuation

// The ways people write a word of the description, as fold leaves them. English first, with the Spanish
// that a listing in Spanish uses.
var (
	strokeWords = map[Stroke]string{
		TwoStroke:  "2 2stroke twostroke 2strokes 2t 2s 2st 2str 2cycle twocycle 2takt dos 2tiempos dostiempos premix",
		FourStroke: "4 4stroke fourstroke 4strokes 4t 4s 4st 4str 4cycle fourcycle 4takt cuatro 4tiempos cuatrotiempos",
	}
	stateWords = map[State]string{
		PartsOnly: "partsonly forparts part spares spareparts donor piezas parapiezas",
		Dead:      "doesnotrun doesntrun notrunning nonrunning nonrunner notworking dontrun norun nofunciona noarranca",
		Runs:      "run running runner works working goes funciona arranca",
		Serviced:  "service tuned tunedup revisado",
		Rebuilt:   "rebuild overhauled overhaul reconditioned reconstruido rectificado",
	}
	fuelWords = map[Fuel]string{
		Carburettor: "carburetor carburettors carburetors carburetted carbureted carburated carb carbs carbed carburador carburadores",
		Injected:    "injection fuelinjected fuelinjection efi fi mpi inyeccion",
		Direct:      "directinjection directinjected directfuelinjection di dfi gdi inyecciondirecta",
	}
	startWords = map[Start]string{
		Pull:     "pullstart rope recoil manual hand cord tiron",
		Electric: "electricstart electrical elec e es key button starter electrico",
	}
	liftWords = map[Lift]string{
		ManualLift: "hand byhand manualtilt tiltedbyhand",
		AssistLift: "assisted gas gasassist gasassisted gasassistedtilt assistedtilt",
		PowerLift:  "powered powertrim powertilt powertrimandtilt powertrimtilt trim ptt pt hydraulic electric",
	}
	steeringWords = map[Steering]string{
		Tiller: "tillersteering tillerhandle handle hand cana",
		Remote: "remotesteering remotecontrol wheel console steeringwheel mando volante",
	}
	waterWords = map[Water]string{
		Fresh: "freshwater sweet lake river dulce aguadulce",
		Salt:  "saltwater salty sea seawater ocean salada aguasalada mar",
		Mixed: "both mix freshandsalt saltandfresh freshandsaltwater brackish mixto ambas",
	}
	oilWords = map[Oil]string{
		NoInjection:      "no never premix mix neverhad noinjection nunca",
		InjectionWorks:   "works yes injected injection oilinjected oilinjectionworks funciona",
		InjectionRemoved: "remove disconnected disabled bypassed blockedoff deleted oilinjectionremoved quitado",
	}
)

const (
	yesWords = "y true 1 t x ok si s verdadero"
	noWords  = "n false 0 f none without falso"
)
