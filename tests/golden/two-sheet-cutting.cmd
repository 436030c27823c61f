sheet tests/golden/jobs/two-racks/job.sline cutting
