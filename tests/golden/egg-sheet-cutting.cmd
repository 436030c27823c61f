sheet examples/egg-farm/job.sline cutting
