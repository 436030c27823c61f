explain examples/egg-farm/job.sline rack.east.post.B2.wind_uplift
