package theory

// LineCosts is the table of costs, for the test that counts them again.
var LineCosts = lineCosts
