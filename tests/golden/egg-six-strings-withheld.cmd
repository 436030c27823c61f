sheet examples/egg-farm/job.sline strings --alternate "six in series"
