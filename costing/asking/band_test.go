package asking_test

import (
	"skegworth/costing/asking"
	"skegworth/valuation"
)

var _ asking.Resale = valuation.Band{}
