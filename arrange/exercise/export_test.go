package exercise

import "slices"

// SettingNames are the names of all settings, those in groups too.
var SettingNames = slices.Concat(exerciseSettings, lineSettings, guitarSettings)
