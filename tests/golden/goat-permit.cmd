check tests/golden/jobs/goat-shed/job.sline --set job.stage=permit
