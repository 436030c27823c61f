sheet examples/egg-farm/job.sline wire --alternate "six in series"
