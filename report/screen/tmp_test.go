package screen
import ("testing";"os";"rotorsieve/report/trial")
func TestTmp(t *testing.T){
 r:=trial.UnfinishedRun(t,0.5)
 PrintRun(os.Stdout,r,100)
 PrintRunJSON(os.Stdout,trial.UnfinishedRun(t,0.01))
}
