sheet examples/egg-farm/job.sline posts
