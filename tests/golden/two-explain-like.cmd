explain tests/golden/jobs/two-racks/job.sline "rack['far east']"
