explain examples/egg-farm/job.sline R41 --alternate "six in series"
