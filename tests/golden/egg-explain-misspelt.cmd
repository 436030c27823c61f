explain examples/egg-farm/job.sline rack.east.top_egde
