explain examples/egg-farm/job.sline job.total
