sheet tests/golden/jobs/two-racks/job.sline wire --set strings.A.fuse_voltage=100V
