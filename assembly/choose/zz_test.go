package choose
import ("testing";"context";"time";"syscall")
func cpu() time.Duration { var u syscall.Rusage; syscall.Getrusage(0,&u); return time.Duration(u.Utime.Nano()+u.Stime.Nano())}
func TestZZ(t *testing.T){
 file,f:=load(t,"eight-cell-plywood.yaml")
 cat:=Offer(file,f,false)
 cat.Plates=cat.Plates[2:4]; cat.Angles=cat.Angles[:2]; cat.Levels=cat.Levels[:3]; cat.Threads=cat.Threads[:1]
 s:=cpu(); last:=""
 out,err:=Search(context.Background(),file,cat,func(st string,d,n int){ if st!=last {t.Log(st,d,n,cpu()-s); last=st}})
 t.Log(err,cat.Size(),out.Made,out.Screened,out.Tried,out.Solved,out.Complete,len(out.Front),cpu()-s)
}
