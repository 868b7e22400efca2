package valuation
import ("testing";"fmt";"skegworth/valuation/money")
func TestReasons(t *testing.T){
 usd := money.Must("USD")
 for _,forget:=range []float64{0,.4,1}{ for _,n:=range []int{12,25,60}{
  c:=map[string]int{}; tot:=0
  for k:=range 100 { w:=newWorld(uint64(k),1200); m,_:=NewMarket(w.sales(n,forget),Options{Currency:usd,Anchor:120000,AsOf:w.today})
   for range 20 { b,_:=m.Worth(w.told(w.motor(),forget),w.today); tot++; for _,s:=range b.Warnings(){c[s.Key]++} } }
  fmt.Println(forget,n,tot,c)
 }}
}
func BenchmarkFit500(b *testing.B){ w:=newWorld(1,1200); s:=w.sales(500,.4); o:=Options{Currency:money.Must("USD"),Anchor:120000}
 for b.Loop(){ if _,err:=NewMarket(s,o);err!=nil{b.Fatal(err)}}}
func BenchmarkWorth(b *testing.B){ w:=newWorld(1,1200); s:=w.sales(500,.4); o:=Options{Currency:money.Must("USD"),Anchor:120000}
 m,_:=NewMarket(s,o); mo:=w.told(w.motor(),.4)
 for b.Loop(){ x,err:=m.Worth(mo,w.today);if err!=nil{b.Fatal(err)}; x.Interval(.8)}}
func BenchmarkDraws(b *testing.B){ w:=newWorld(1,1200); s:=w.sales(500,.4); o:=Options{Currency:money.Must("USD"),Anchor:120000}
 m,_:=NewMarket(s,o); mo:=w.told(w.motor(),.4);x,_:=m.Worth(mo,w.today)
 for b.Loop(){ x.Draws(1000)}}
func BenchmarkTrackFew(b *testing.B){ w:=newWorld(1,1200); s:=w.sales(500,.4); o:=Options{Currency:money.Must("USD"),Anchor:120000}
 m,_:=NewMarket(s,o)
 for b.Loop(){ m.Track()}}
func BenchmarkComparables(b *testing.B){ w:=newWorld(1,1200); s:=w.sales(500,.4); o:=Options{Currency:money.Must("USD"),Anchor:120000}
 m,_:=NewMarket(s,o); mo:=w.told(w.motor(),.4)
 for b.Loop(){ m.Comparables(mo,w.today,6)}}
