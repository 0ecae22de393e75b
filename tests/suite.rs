mod outside;
