check tests/golden/jobs/goat-shed/job.sline --format=gnu
