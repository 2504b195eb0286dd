"""What each kind of finding says to somebody who lives in the house, a file for each part of the job."""
