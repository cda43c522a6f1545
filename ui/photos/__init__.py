"""Photos of slip, tester or springs: kept with the job for the record, shown, never read."""
