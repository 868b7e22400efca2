package intake

// The columns that are not facts about the motor itself. All others are the words of [valuation.Motor.Set].
const (
	sold    = "sold"
	price   = "price"
	listed  = "listed"
	asked   = "asked"
	channel = "channel"
	note    = "note"
	on      = "on" // the day a motor is to be valued on, in a list of motors
)

// headings gives the other names a column goes by, each folded: letters and digits only. The first
// word is the column's own name in the intake header. Besides English the obvious words of a few
// languages are known, because the machine a list was typed on is not always the reader's own.
var headings = []struct {
	field string
	names []string
}{
	{sold, []string{"sold", "datesold", "solddate", "soldon", "dateofsale", "saledate", "salesdate", "selldate",
		"selldte", "whensold", "daysold", "sale", "date", "dateout", "fecha", "fechadeventa", "fechaventa", "vendido",
		"vendidoel", "datum", "verkauft", "verkauftam", "verkaufsdatum", "datedevente", "datevente", "vendu", "vendule"}},
	{price, []string{"price", "saleprice", "salesprice", "sellingprice", "sellprice", "soldprice", "pricesold", "soldfor",
		"soldat", "finalprice", "pricepaid", "amount", "salevalue", "got", "precio", "preciodeventa", "precioventa",
		"preis", "verkaufspreis", "vkpreis", "erlos", "prix", "prixdevente", "prixvente"}},
	{"power", []string{"power", "hp", "bhp", "horsepower", "horses", "ratedpower", "enginepower", "motorpower",
		"enginehp", "motorhp", "ratedhp", "powerrating", "kw", "kilowatt", "kilowatts", "ps", "cv", "potencia", "caballos",
		"leistung", "puissance"}},
	{"year", []string{"year", "yr", "modelyear", "yearmodel", "my", "yearofmake", "yearmade", "makeyear", "yearbuilt",
		"yearofbuild", "buildyear", "built", "yearofmanufacture", "manufactureyear", "yearmanufactured", "ano", "anomodelo",
		"anodefabricacion", "baujahr", "jahr", "modelljahr", "annee"}},
	{"stroke", []string{"stroke", "strokes", "stroketype", "cycle", "cycles", "2or4stroke", "2stroke4stroke", "24stroke",
		"2strokeor4stroke", "twoorfour", "twoorfourstroke", "enginetype", "motortype", "tiempos", "takt", "takte", "temps"}},
	{"make", []string{"make", "brand", "maker", "manufacturer", "makeofmotor", "marca", "marke", "hersteller", "marque"}},
	{"model", []string{"model", "modelname", "modelnumber", "modelno", "modelo", "modell", "modele"}},
	{"fuel", []string{"fuel", "fuelsystem", "fueltype", "fuelling", "fueling", "fueldelivery", "induction",
		"carburetion", "carborefi", "efiorcarb", "combustible", "alimentacion", "gemisch", "alimentation"}},
	{"shaft", []string{"shaft", "shaftlength", "shaftsize", "leg", "leglength", "transom", "transomlength", "eje",
		"largodeeje", "schaft", "schaftlange", "arbre", "longueurarbre"}},
	{"start", []string{"start", "starting", "starter", "starttype", "startertype", "startmethod", "arranque",
		"anlasser", "demarrage"}},
	{"lift", []string{"lift", "tilt", "trim", "trimtilt", "tilttrim", "trimandtilt", "tiltandtrim", "tilttype"}},
	{"steering", []string{"steering", "steer", "steeringtype", "tillerorremote", "tillerremote", "remoteortiller",
		"control", "controltype", "lenkung", "direccion", "direction"}},
	{"water", []string{"water", "waters", "watertype", "ranin", "usedin", "wateruse", "saltorfresh", "freshorsalt",
		"saltfresh", "freshsalt", "agua", "wasser", "gewasser", "eau"}},
	{"hours", []string{"hours", "hrs", "hour", "enginehours", "enginehrs", "motorhours", "runhours", "runninghours",
		"hoursrun", "hoursused", "horas", "stunden", "betriebsstunden", "heures"}},
	{"looks", []string{"looks", "condition", "cond", "look", "cosmetics", "cosmetic", "cosmeticcondition", "appearance",
		"aspecto", "aussehen", "optik", "aspect"}},
	{"state", []string{"state", "stateatsale", "runningstate", "mechanicalstate", "mechanics", "mechanical",
		"mechanicalcondition", "workingstate", "runningcondition", "estado", "zustand", "etat"}},
	{"oil", []string{"oil", "oilinjection", "oilinjected", "oilsystem", "autolube", "aceite", "olpumpe", "huile"}},
	{listed, []string{"listed", "datelisted", "listeddate", "listedon", "listdate", "listingdate", "advertised",
		"advertisedon", "dateadvertised", "firstlisted", "firstoffered", "offered", "offeredon", "dateoffered",
		"publicado", "inseriert", "inseriertam", "misenvente"}},
	{asked, []string{"asked", "asking", "ask", "askingprice", "askprice", "askedprice", "listprice", "listedprice",
		"listingprice", "listedat", "listedfor", "advertisedprice", "offerprice", "preciopedido", "angebotspreis",
		"prixdemande"}},
	{channel, []string{"channel", "soldvia", "soldthrough", "soldby", "wheresold", "soldwhere", "salechannel",
		"saleschannel", "platform", "marketplace", "via", "venue", "canal", "kanal"}},
	{note, []string{"note", "notes", "comment", "comments", "remark", "remarks", "notas", "nota", "observaciones",
		"bemerkung", "bemerkungen", "notiz", "remarque", "remarques"}},
	{on, []string{"on", "asof", "asat", "valuedon", "valuationdate", "valuedate", "date", "datum", "fecha"}},

	{"cylinders", []string{"cylinders", "cylinder", "cyl", "cyls", "numberofcylinders", "noofcylinders", "nocylinders"}},
	{"compression", []string{"compression", "comp", "compressions", "compressiontest", "compressionreadings"}},
	{"turns", []string{"turns", "turnsover", "turnsbyhand", "turnsfreely"}},
	{"submerged", []string{"submerged", "drowned", "sunk", "wasunderwater", "submergedonce"}},
	{"lower-unit", []string{"lowerunit", "lowerunitcomplete", "gearcase", "lowerunitthere"}},
	{"welded", []string{"welded", "weldedorsleeved", "sleeved"}},
	{"parts-supplied", []string{"partssupplied", "partsstillsupplied", "partsavailable", "partsavailability"}},
	{"plate", []string{"plate", "serialplate", "idplate", "serialplatepresent"}},
	{"shown-running", []string{"shownrunning", "seenrunning", "demonstrated", "shownrunningatsale"}},
	{"controls", []string{"controls", "controlsincluded", "remotecontrols", "withcontrols", "controlbox"}},
	{"propeller", []string{"propeller", "prop", "propincluded", "propellerincluded", "withprop"}},
	{"tank", []string{"tank", "fueltank", "tankincluded", "withtank"}},
	{"helm", []string{"helm", "helmincluded", "steeringgear", "steeringincluded"}},
	{"warranty", []string{"warranty", "warrantydays", "daysofwarranty", "guarantee"}},
	{"about-year", []string{"aboutyear", "yearabout", "yearapprox", "yearisabout"}},
	{"about-power", []string{"aboutpower", "powerabout", "powerapprox", "powerisabout"}},
	{"old-rating", []string{"oldrating", "powerheadrating", "ratedatpowerhead"}},
	{"bracket-number", []string{"bracketnumber", "bracketno", "serial", "serialnumber", "serialno"}},
	{"powerhead-number", []string{"powerheadnumber", "powerheadno", "blocknumber"}},
}

// answers are headings that ask yes or no about what is a word in our own header.
var answers = map[string]struct{ field, yes, no string }{
	"fourstroke":    {"stroke", "four", "two"},
	"4stroke":       {"stroke", "four", "two"},
	"twostroke":     {"stroke", "two", "four"},
	"2stroke":       {"stroke", "two", "four"},
	"electricstart": {"start", "electric", "pull"},
	"pullstart":     {"start", "pull", "electric"},
	"powertrim":     {"lift", "power", "manual"},
	"powertilt":     {"lift", "power", "manual"},
	"powerlift":     {"lift", "power", "manual"},
	"ptt":           {"lift", "power", "manual"},
	"tiller":        {"steering", "tiller", "remote"},
	"saltwater":     {"water", "salt", "fresh"},
	"salt":          {"water", "salt", "fresh"},
	"freshwater":    {"water", "fresh", "salt"},
}
