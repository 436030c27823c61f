check tests/golden/jobs/two-racks/job.sline
