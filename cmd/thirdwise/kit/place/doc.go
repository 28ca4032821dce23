// Package place puts finished folders into their place, each whole or not at all,
// and loses nothing that somebody else has put there.
//
// A folder is made as a [Draft] in a hidden workshop beside its place, and then
// exchanged with what is there, in one step where the system can:
//
//	kits/
//	    porch-light/                the folder in its place
//	    .thirdwise-1234/            the workshop
//	        lock                    locked while the program lives
//	        draft/porch-light/      the folder in the making
//	        replaced/porch-light/   what was in its place, for a moment
//
// What else lies in a folder that is replaced goes over into the new one, as
// links to the same files where the system has them. A program that dies leaves
// its workshop behind, but no longer locked: [Drafts.Recover] brings back what was
// set aside and removes the rest. A single file is made and put into its place in the
// same way, by [Drafts.WriteFile]. Nothing is forced to the disk: what is promised
// is that nobody meets half a folder, not that a folder outlives a power cut in
// the second that it was made in.
//
// Which files of a folder are the program's own is told by an [Inventory].
package place
