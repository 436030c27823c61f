explain tests/golden/jobs/goat-shed/job.sline R41
