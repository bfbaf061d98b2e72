package intake_test

import (
	"testing"

	"tendfold/domain/calendar"
	"tendfold/server/app"
	"tendfold/server/intake"

	"github.com/stretchr/testify/require"
)

func TestATrainingRecordIsNotReckoned(t *testing.T) {
	raw, err := intake.TrainingCSV([]app.RecordRow{{
		Person: `=HYPERLINK("http://x")`, ModuleKey: app.ModuleKey{Enterprise: "snail", Module: "m"}, Name: "+1", What: "questions",
		On: calendar.MustDate("2026-03-12"), How: "phone", Result: "passed", Score: "5/6", By: "@sum",
	}})
	require.NoError(t, err)
	require.Equal(t, "person,enterprise,module,module_name,what,on,until,how,result,score,by\n"+
		`"'=HYPERLINK(""http://x"")",snail,m,'+1,questions,2026-03-12,,phone,passed,5/6,'@sum`+"\n", string(raw))
}
