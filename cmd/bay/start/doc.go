// Package start comes before the graphics engine. The engine opens its connection to the screen while Go initialises packages, long before main, and
// panics where there is none. Go initialises packages in the order of what they import, and by import path where that leaves a choice; this
// one imports the standard library and one package that does the same, and its path sorts before the engine's. So its init runs first, answers for help, and says in one
// sentence what is missing.
package start

// Usage is the text for -help.
const Usage = `bay - the trainee's window of Coldbay

usage: bay [-order ID] [-lesson ID] [-size WxH] [-still] [-audio on|off] [-lang CODE] [-shot FILE [-frames N]]

  -order ID     open this work order at once
  -lesson ID    open this lesson at once
  -size WxH     size of the window, 1280x720 unless given; at least 400x240
  -still        nothing moves by itself; the browser follows the system's setting
  -audio on|off sound, on unless given; pictures are taken in silence
  -lang CODE    en, de or es, otherwise as set in the window
  -shot FILE    write a picture of the window after N frames and end (PNG)
  -frames N     frames before the picture, 60 unless given

Training only. The vehicle's own service information, local rules and licensed practice come first.
`
