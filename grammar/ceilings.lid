book "hardlid ceilings" edition "1"
use "hardlid trade"
