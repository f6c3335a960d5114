package circuit

// The picture's grid, in its own units: about a phone's pixels.
const (
	width  = 384
	left   = 20  // of the first column
	column = 124 // from one column to the next
	boxW   = 100
	pitch  = 84 // from one row to the next
	boxH   = 62
	top    = 4
	rows   = 11
	height = top + rows*pitch
)

// A spot is where a node of the model stands: its column and row, how many columns
// wide, and its name in lines that fit.
type spot struct {
	col, row, wide int
	name           []string
}

// spots is where each node of the model stands, by its id.
var spots = map[string]spot{
	"lube-rear":         {0, 0, 1, []string{"Lubrication,", "overdrive"}},
	"lube":              {1, 0, 1, []string{"Lubrication,", "main train"}},
	"cooler":            {2, 0, 1, []string{"To the", "cooler"}},
	"converter-feed":    {0, 1, 1, []string{"Converter", "feed"}},
	"converter-release": {1, 1, 1, []string{"Converter,", "release side"}},
	"converter-apply":   {2, 1, 1, []string{"Converter,", "apply side"}},
	"sump":              {0, 2, 1, []string{"Pan"}},
	"suction":           {1, 2, 1, []string{"Pump inlet"}},
	"throttle":          {2, 2, 1, []string{"Throttle", "pressure"}},
	"line":              {0, 3, 3, []string{"Line"}},
	"reverse":           {0, 4, 1, []string{"Reverse", "circuit"}},
	"drive":             {1, 4, 2, []string{"Forward circuit"}},
	"accumulator":       {0, 5, 1, []string{"Accumulator"}},
	"second":            {1, 5, 1, []string{"2nd circuit"}},
	"rear-clutch":       {2, 5, 1, []string{"Rear clutch"}},
	"low":               {0, 6, 1, []string{"Manual 1", "circuit"}},
	"third":             {1, 6, 1, []string{"3rd circuit"}},
	"governor":          {2, 6, 1, []string{"Governor", "pressure"}},
	"rear-servo":        {0, 7, 1, []string{"Rear servo"}},
	"front-feed":        {1, 7, 1, []string{"Front clutch", "feed"}},
	"fourth-signal":     {2, 7, 1, []string{"Overdrive", "signal"}},
	"front-clutch":      {1, 8, 1, []string{"Front clutch"}},
	"lockup-signal":     {2, 8, 1, []string{"Lock-up", "signal"}},
	"servo-release":     {0, 9, 1, []string{"Front servo,", "release side"}},
	"servo-apply":       {1, 9, 1, []string{"Front servo,", "apply side"}},
	"fourth":            {2, 9, 1, []string{"4th circuit"}},
	"overdrive-clutch":  {2, 10, 1, []string{"Overdrive", "clutch"}},
}

func (s spot) x() int { return left + s.col*column }
func (s spot) y() int { return top + s.row*pitch }
func (s spot) w() int { return boxW + (s.wide-1)*column }

// A pipe is how a link of the model runs: a path from its first node to its second
// one, with the number of the point after which the valve or orifice sits. Points
// are x, y in turn.
type pipe struct {
	points []int
	valve  int
	label  string // beside the valve
}

// The middles of columns, the ways between them, and the edges of rows.
const (
	c0, c1, c2     = left + boxW/2, left + column + boxW/2, left + 2*column + boxW/2
	l1, l2         = left + column, left + 2*column // left edges
	r0, r1, r2     = left + boxW, left + column + boxW, left + 2*column + boxW
	outL, outR     = 7, width - 4
	way1, way2     = r0 + 8, r0 + 17 // between the first and the second column
	way3           = r1 + 12         // between the second and the third
	half           = boxH / 2
	t0, t1, t2, t3 = top, top + pitch, top + 2*pitch, top + 3*pitch // tops of rows
	t4, t5, t6, t7 = top + 4*pitch, top + 5*pitch, top + 6*pitch, top + 7*pitch
	t8, t9, t10    = top + 8*pitch, top + 9*pitch, top + 10*pitch
)

// pipes is every link that the picture draws, by its id. Not drawn are those that
// lead back to the pan and leaks; they are listed under the picture.
var pipes = map[string]pipe{
	"filter":           {[]int{r0, t2 + half, l1, t2 + half}, 0, ""},
	"pump":             {[]int{l1 + 14, t2 + boxH, l1 + 14, t3}, 0, "Pump"},
	"regulator-dump":   {[]int{r1 - 12, t3, r1 - 12, t2 + boxH}, 0, ""},
	"regulator-feed":   {[]int{left, t3 + half, outL, t3 + half, outL, t1 + half, left, t1 + half}, 1, ""},
	"lockup-apply":     {[]int{r2, t3 + half, outR, t3 + half, outR, t1 + half, r2, t1 + half}, 1, ""},
	"throttle-supply":  {[]int{c2, t3, c2, t2 + boxH}, 0, "Throttle"},
	"converter-in":     {[]int{r0, t1 + half, l1, t1 + half}, 0, ""},
	"converter":        {[]int{r1, t1 + half, l2, t1 + half}, 0, ""},
	"converter-out":    {[]int{c2 + 20, t1, c2 + 20, t0 + boxH}, 0, ""},
	"cooler-bypass":    {[]int{c0, t1, c0, t1 - 11, l2 + 20, t1 - 11, l2 + 20, t0 + boxH}, 1, ""},
	"cooler":           {[]int{l2, t0 + half, r1, t0 + half}, 0, ""},
	"lube-rear-feed":   {[]int{l1, t0 + half, r0, t0 + half}, 0, ""},
	"manual-reverse":   {[]int{c0, t3 + boxH, c0, t4}, 0, "Manual"},
	"manual-forward":   {[]int{c2, t3 + boxH, c2, t4}, 0, "Manual"},
	"shift-1-2":        {[]int{c1, t4 + boxH, c1, t5}, 0, "1-2"},
	"rear-clutch-feed": {[]int{c2, t4 + boxH, c2, t5}, 0, ""},
	"shift-2-3":        {[]int{c1, t5 + boxH, c1, t6}, 0, "2-3"},

	"front-clutch-ball-third":   {[]int{c1, t6 + boxH, c1, t7}, 0, "Ball"},
	"front-clutch-feed":         {[]int{c1, t7 + boxH, c1, t8}, 0, ""},
	"front-clutch-ball-reverse": {[]int{r0, t4 + 16, way1, t4 + 16, way1, t7 + 16, l1, t7 + 16}, 2, ""},
	"servo-release-feed":        {[]int{l1, t7 + 38, way2, t7 + 38, way2, t9 + 14, r0, t9 + 14}, 1, ""},
	"servo-seal":                {[]int{l1, t9 + 38, r0, t9 + 38}, 0, ""},
	"servo-apply-feed":          {[]int{r1, t5 + half, way3, t5 + half, way3, t9 + half, r1, t9 + half}, 1, ""},
	"accumulator-reverse":       {[]int{c0, t4 + boxH, c0, t5}, 0, ""},
	"accumulator-forward":       {[]int{l1, t4 + 38, way2, t4 + 38, way2, t5 + 36, r0, t5 + 36}, 2, ""},
	"manual-low":                {[]int{l1, t4 + 38, way2, t4 + 38, way2, t6 + 36, r0, t6 + 36}, 2, ""},
	"rear-servo-ball-low":       {[]int{c0, t6 + boxH, c0, t7}, 0, "Ball"},
	"rear-servo-ball-reverse":   {[]int{left, t4 + half, outL, t4 + half, outL, t7 + half, left, t7 + half}, 2, ""},

	"governor-supply":                {[]int{r2, t4 + half, outR, t4 + half, outR, t6 + half, r2, t6 + half}, 2, ""},
	"overdrive-solenoid-feed":        {[]int{r2, t4 + half, outR, t4 + half, outR, t7 + half, r2, t7 + half}, 2, ""},
	"converter-clutch-solenoid-feed": {[]int{r2, t4 + half, outR, t4 + half, outR, t8 + half, r2, t8 + half}, 2, ""},
	"shift-3-4":                      {[]int{r2, t4 + half, outR, t4 + half, outR, t9 + half, r2, t9 + half}, 2, ""},
	"overdrive-feed":                 {[]int{c2, t9 + boxH, c2, t10}, 0, ""},
}
