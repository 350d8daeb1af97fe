namespace becalm::io {}
