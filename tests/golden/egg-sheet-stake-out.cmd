sheet examples/egg-farm/job.sline stake-out
