rows rooms from "Rooms"
end
