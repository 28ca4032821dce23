// Package loudness measures how loud samples are: integrated loudness and true peak
// by ITU-R BS.1770-5, and bounds of a true peak that is not measured yet.
//
// In go samples block by block, out comes one number at the end. What gain follows
// from it is decided elsewhere.
package loudness
