run examples/egg-farm/job.sline
