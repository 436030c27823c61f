explain tests/golden/jobs/goat-shed/job.sline R30 --set job.units=US
