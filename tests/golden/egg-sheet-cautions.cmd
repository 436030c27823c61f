sheet examples/egg-farm/job.sline cautions
