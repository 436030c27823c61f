explain examples/egg-farm/job.sline rack.east.post.F1.cut_length
