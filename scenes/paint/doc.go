// Package paint turns shapes and words into pixels at a price a school laptop can pay. A scene records what it shows in a
// [List]: shapes become triangles with a one-pixel transparent edge, words become text entries with the box they fill. A
// [Layer] keeps the rendered list as an image and renders it again only when the list changed, so that a frame is a
// few image copies plus one mesh for what moves. Nothing here takes the engine's anti-aliased path route, whose
// price is per flush.
//
// All coordinates are logical: the list's scale turns them into device pixels, so text and edges are sharp on a
// high-density display. A List can also be read back by tests: that is how overlapping or cut text is found.
package paint
