"""What every sheet, chart and layout says."""
