// A client in C++17: makes a plan, judges a log, handles an error.
//
//     c++ -std=c++17 plan.cpp $(pkg-config --cflags --libs poulter) -o plan && ./plan order.toml probe.csv
#include <poulter.hpp>

#include <fstream>
#include <iostream>
#include <iterator>
#include <string>

static std::string read_file(const char *path) {
    std::ifstream file(path, std::ios::binary);
    if (!file) {
        throw std::runtime_error(std::string("cannot read ") + path);
    }
    return {std::istreambuf_iterator<char>(file), {}};
}

// A request that carries the text as a JSON string.
static std::string log_request(const std::string &csv) {
    std::string request = R"({"kind":"check_cooking_log","log":{"csv":")";
    for (const char letter : csv) {
        if (letter == '\n') {
            request += "\\n";
        } else if (letter != '\r') {
            request += letter;
        }
    }
    return request + R"("}})";
}

int main(int argc, char **argv) {
    if (argc < 3) {
        std::cerr << "usage: plan ORDER.toml LOG.csv\n";
        return 64;
    }
    try {
        poulter::require_abi();

        // A plan. A planner may be shared by threads, and so may a plan.
        const poulter::planner planner;
        const poulter::plan plan = planner.plan(read_file(argv[1]));
        const poulter::step first = plan[0];
        std::cout << "plan: " << (plan.is_feasible() ? "feasible" : "not feasible") << ", " << plan.size()
                  << " steps, first " << first.id << " at " << first.planned << "\n";

        // A log. Unsafe food is an answer, not an exception.
        const std::string answer = poulter::evaluate(log_request(read_file(argv[2])));
        const std::string mark = R"("verdict":")";
        const auto begin = answer.find(mark) + mark.size();
        std::cout << "log: " << answer.substr(begin, answer.find('"', begin) - begin) << "\n";

        // An error: four hundred of what?
        try {
            poulter::evaluate(R"({"kind":"thaw_time","mass":"400","method":"refrigerator"})");
        } catch (const poulter::error &error) {
            std::cout << "error: " << error.code() << " at " << error.field() << "\n";
        }
    } catch (const std::exception &error) {
        std::cerr << error.what() << "\n";
        return 1;
    }
}
