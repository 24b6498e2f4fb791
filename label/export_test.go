package label

// RuleOfLimit is the code of a finding about a limit.
var RuleOfLimit = ruleOf
