explain tests/golden/jobs/two-racks/job.sline rack.west.post
