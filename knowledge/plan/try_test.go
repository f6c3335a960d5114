package plan
import ("testing";"fmt";"time")
func TestCal(t *testing.T) {
	for _, z := range [][3]int{{6,9,10},{14,20,24},{100,80,512},{1000,800,512}} {
		p, s := workshop(1, z[0],z[1],z[2])
		sets, w := canonical(s.Scenarios)
		if len(sets)>96 && z[2]>600 { sets,w=sets[:96],w[:96] }
		tt := newTable(p, sets, w)
		x := newSearch(tt)
		n := x.root(s, 0)
		d := x.desk()
		res := 0; for _,e := range tt.checks { res += len(e.results)*len(e.entropy) }
		t0 := time.Now(); x.spent=0
		for range 200 { x.gains(n, d) }
		fmt.Print(z, " n ", len(sets), " provers ", len(tt.prover), " gains ns ", time.Since(t0).Nanoseconds()/200, " spent ", x.spent/200, " res*classes ", res, "\n")
		x.spent = 0
		t0 = time.Now()
		for range 200 { x.series(n) }
		fmt.Println("  series ns", time.Since(t0).Nanoseconds()/200, "spent", x.spent/200)
		x.spent = 0
		acts := x.acts(n, d)
		t0 = time.Now()
		r := 0
		for range 10 { for _, a := range acts { x.ahead(n, a, d); r += len(tt.checks[a.check].results) } }
		fmt.Println("  ahead per result ns", time.Since(t0).Nanoseconds()/int64(r), "spent", x.spent/r, "unit", x.unit(n))
		x.spent = 0
		t0 = time.Now()
		x.gains(n,d); d.acts = x.acts(n,d)
		x.consider(n, d, 1000000)
		fmt.Println("  consider ns", time.Since(t0).Nanoseconds(), "spent", x.spent)
	}
}
