// Command coldbay is the training bay at the command line: it opens the bay in a
// browser, and will play, grade and check work orders at the prompt.
//
// # How a command is made
//
// A command is one file, cmd_NAME.go, holding a usage constant with examples that
// work as they stand, a constructor that returns a [command], and a run function:
//
//	const listUsage = `Usage: coldbay list [--json] [KIND]
//	...`
//
//	func listCommand() command {
//		return command{name: "list", summary: "orders, lessons, cars, faults", usage: listUsage, run: runList}
//	}
//
//	func runList(ctx context.Context, p *Program, args []string) error {
//		flags := newFlags("list")
//		asJSON := flags.Bool("json", false, "")
//		kinds, err := flags.parse(args)
//		if err != nil {
//			return err
//		}
//		...
//	}
//
// One line in [commands] makes it known. A run function writes what was asked for
// to p.Stdout and nothing else there. It returns what went wrong: a plain error
// for a failure, [usagef] for wrong use, [withHint] around either to say what to
// do next, [errCheckFailed] when the findings that it printed are the message.
// [Program.Run] prints the error and turns it into the exit code: 0 done, 1 a
// failure or a failed check, 2 wrong use. What may take longer than a second is
// announced with [Program.progress].
//
// No command imports the graphics engine, so this program builds without cgo and
// runs without a display.
package main
