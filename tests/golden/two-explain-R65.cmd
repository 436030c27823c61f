explain tests/golden/jobs/two-racks/job.sline R65
