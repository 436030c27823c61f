explain tests/golden/jobs/two-racks/job.sline rack.top_edge
