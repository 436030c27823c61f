sheet examples/egg-farm/job.sline wire
