sheet tests/golden/jobs/goat-shed/job.sline posts --set job.stage=permit
