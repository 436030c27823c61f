explain examples/egg-farm/job.sline site.frost
