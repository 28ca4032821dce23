package line

// CostOf is the table of costs, for the test that counts them again.
var CostOf = costOf
