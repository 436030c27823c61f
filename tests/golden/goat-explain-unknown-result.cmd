explain tests/golden/jobs/goat-shed/job.sline rack.upper.velocity_pressure
