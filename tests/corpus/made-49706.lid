book "Book 0"  edition "6"
use "hardlid loads"
rows rooms  from "Rooms"
    md text key
    f1 count
    f2 count  heading "Heading 2" or "H2"  may be blank
    f3 length  heading "Heading 3" or "H3"  below 2.4 m  shown in im
    f4 psf  from 5.0 psf to 8