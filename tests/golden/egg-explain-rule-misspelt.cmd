explain examples/egg-farm/job.sline R411
