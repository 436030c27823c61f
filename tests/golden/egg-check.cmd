check examples/egg-farm/job.sline
