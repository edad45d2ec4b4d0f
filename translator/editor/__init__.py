"""Part text as it is written: laid out anew, and looked at while it is typed."""
