run tests/golden/jobs/goat-shed/job.sline
