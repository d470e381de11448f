// Package ui is what can be touched: controls with a name, a role, a box and a keyboard route, the order in which the
// focus visits them, and the accessibility tree read from them. A scene builds a [Page] by naming its controls
// through a [Build]; the page then handles mouse, touch and keys for all of them in the same way, so that
// nothing can be clicked that can't also be reached by keys.
package ui
