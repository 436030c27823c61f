run tests/golden/jobs/two-racks/job.sline --format=gnu
