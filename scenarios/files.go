package scenarios

import (
	"embed"
	"fmt"
	"io/fs"
)

//go:embed procedures/*.yaml rubric.yaml dictionaries
var gradingFiles embed.FS

// ProceduresFile is the file of procedures that plans for a car may be made of; the grader parses it.
func ProceduresFile(car string) (name string, data []byte, err error) {
	return gradingFile("procedures/" + car + ".yaml")
}

// RubricFile is the rubric that attempts are marked by; the grader parses it.
func RubricFile() (name string, data []byte, err error) { return gradingFile("rubric.yaml") }

// DictionaryFile is the dictionary that was built for an order and shipped with it, so that a browser need not build it. It is
// compressed; package grading/dictionary reads and verifies it.
func DictionaryFile(order string) (name string, data []byte, err error) {
	return gradingFile("dictionaries/" + order + ".json.gz")
}

// PractiseFile is what the orders' plans spend their time on, made together with the dictionaries; the grader parses it.
func PractiseFile() (name string, data []byte, err error) {
	return gradingFile("dictionaries/practise.json")
}

func gradingFile(name string) (string, []byte, error) {
	data, err := fs.ReadFile(gradingFiles, name)
	if err != nil {
		return name, nil, fmt.Errorf("%s does not come with this program: %w", name, err)
	}
	return name, data, nil
}
