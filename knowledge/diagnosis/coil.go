package diagnosis

import (
	"provingbench/knowledge/conformity"
	"provingbench/knowledge/quantity"
)

func (e *Engine) judgeCoil(j *Judgement, r quantity.Reading, a conformity.Accuracy, n *Entry) {
}
